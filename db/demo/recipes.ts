/*
 * What the sample blends are mixed from. Proportions are common practice, no source; scents, certificates and their
 * limits are invented and say nothing of any real oil.
 */

/** In which kind of product the sample's pieces count: what goes into the bath. */
export const sampleCategory = "9";

/** From long enough ago that every batch of the sample has its recipe. */
export const sampleRecipesFrom = "2020-01-01";

/** Allergens in parts per million of the oil; none: its supplier's statement is still awaited. */
const scent = (name: string, limitPpm: number | null, allergens: Readonly<Record<string, number>> = {}) =>
  ({
    name: `${name} scent oil`,
    kind: "scent",
    labelName: "Parfum",
    limitPpm,
    flammable: true,
    allergens: Object.entries(allergens).map(([named, sharePpm]) => ({ name: named, sharePpm })),
    allergenSource: Object.keys(allergens).length > 0 ? `invented statement for ${name}` : "",
  }) as const;

const mica = (name: string) =>
  ({
    name: `${name} mica`,
    kind: "colour",
    labelName: "Mica",
    dusty: true,
    statement: "Made up for the sample. Of a real one: the rule that permits it, and in which uses.",
  }) as const;

/** Shares that evaporate are in basis points, limits in parts per million of the dry piece. */
export const sampleIngredients = {
  soda: { name: "Baking soda", kind: "soda", labelName: "Sodium Bicarbonate" },
  acid: { name: "Citric acid, fine", kind: "acid", labelName: "Citric Acid", dusty: true },
  starch: { name: "Maize starch", kind: "filler", labelName: "Zea Mays Starch", dusty: true },
  salt: { name: "Epsom salt, fine", kind: "filler", labelName: "Magnesium Sulfate" },
  oats: { name: "Oat flour", kind: "filler", labelName: "Avena Sativa Kernel Flour", dusty: true },
  foam: { name: "Foaming powder", kind: "surfactant", labelName: "Sodium Lauryl Sulfoacetate", dusty: true },
  almond: {
    name: "Sweet almond oil",
    kind: "oil",
    labelName: "Prunus Amygdalus Dulcis Oil",
    densityGramsPerLitre: 913,
    densitySource: "USP, 0.910 to 0.915 at 25 °C: the middle",
  },
  solubiliser: { name: "Polysorbate 80", kind: "solubiliser", labelName: "Polysorbate 80" },
  alcohol: {
    name: "Alcohol, high strength",
    kind: "alcohol",
    labelName: "Isopropyl Alcohol",
    densityGramsPerLitre: 820,
    densitySource: "usual tables at 20 °C, from memory",
    evaporatesBasisPoints: 10_000,
    flammable: true,
  },
  lilac: mica("Lilac"),
  green: mica("Sea green"),
  orange: mica("Orange"),
  brown: mica("Bark brown"),
  red: mica("Hip red"),
  blue: mica("Juniper blue"),
  black: mica("Tea black"),
  oatMilk: scent("Oat milk", 30_000, { "Benzyl Alcohol": 31_000, Coumarin: 12_000 }),
  lavender: scent("Lavender hour", 24_000, { Linalool: 280_000, Coumarin: 21_000, Geraniol: 4_000 }),
  seaFennel: scent("Sea fennel", 21_000, { Limonene: 74_000, Linalool: 22_000 }),
  orangePeel: scent("Orange peel", 18_000, { Limonene: 610_000, Citral: 14_000, Linalool: 9_000 }),
  cedar: scent("Cedar shed", 36_000, { Limonene: 47_000, Linalool: 12_000 }),
  roseHip: scent("Rose hip", 27_000, { Citronellol: 92_000, Geraniol: 61_000, Linalool: 8_000 }),
  juniper: scent("Juniper fog", null),
  blackTea: scent("Black tea", 30_000, { Linalool: 56_000, Limonene: 38_000 }),
} as const satisfies Readonly<
  Record<
    string,
    {
      readonly name: string;
      readonly kind: string;
      readonly labelName: string;
      readonly densityGramsPerLitre?: number;
      readonly densitySource?: string;
      readonly evaporatesBasisPoints?: number;
      readonly dusty?: boolean;
      readonly flammable?: boolean;
      readonly statement?: string;
      readonly limitPpm?: number | null;
      readonly allergens?: readonly { readonly name: string; readonly sharePpm: number }[];
      readonly allergenSource?: string;
    }
  >
>;

export type SampleIngredient = keyof typeof sampleIngredients;

type SamplePart = readonly [
  ingredient: SampleIngredient,
  amount: number,
  unit: "g" | "oz" | "lb" | "fl-oz-us" | "percent",
];

interface SampleRecipe {
  /** Its blend's code. */
  readonly blend: string;
  /** Grams of mix the parts make up; null: the parts are the whole. */
  readonly forGrams: number | null;
  readonly parts: readonly SamplePart[];
}

export const sampleRecipes: readonly SampleRecipe[] = [
  {
    blend: "oat-milk",
    forGrams: 1000,
    parts: [
      ["soda", 550, "g"],
      ["oats", 105, "g"],
      ["almond", 30, "g"],
      ["oatMilk", 15, "g"],
      ["solubiliser", 5, "g"],
      ["alcohol", 20, "g"],
      ["acid", 275, "g"],
    ],
  },
  {
    // As written down years ago on an index card.
    blend: "lavender",
    forGrams: null,
    parts: [
      ["soda", 4, "lb"],
      ["starch", 12, "oz"],
      ["lilac", 0.25, "oz"],
      ["almond", 3.5, "fl-oz-us"],
      ["lavender", 1.2, "percent"],
      ["alcohol", 2, "fl-oz-us"],
      ["acid", 2, "lb"],
    ],
  },
  {
    blend: "sea-fennel",
    forGrams: 1000,
    parts: [
      ["soda", 540, "g"],
      ["salt", 110, "g"],
      ["green", 2, "g"],
      ["almond", 32, "g"],
      ["seaFennel", 14, "g"],
      ["solubiliser", 6, "g"],
      ["alcohol", 26, "g"],
      ["acid", 270, "g"],
    ],
  },
  {
    blend: "orange-peel",
    forGrams: 1000,
    parts: [
      ["soda", 560, "g"],
      ["starch", 90, "g"],
      ["orange", 3, "g"],
      ["almond", 30, "g"],
      ["orangePeel", 12, "g"],
      ["solubiliser", 5, "g"],
      ["alcohol", 20, "g"],
      ["acid", 280, "g"],
    ],
  },
  {
    blend: "cedar",
    forGrams: 1000,
    parts: [
      ["soda", 560, "g"],
      ["starch", 86, "g"],
      ["brown", 4, "g"],
      ["almond", 28, "g"],
      ["cedar", 16, "g"],
      ["solubiliser", 6, "g"],
      ["alcohol", 20, "g"],
      ["acid", 280, "g"],
    ],
  },
  {
    blend: "rose-hip",
    forGrams: 1000,
    parts: [
      ["soda", 530, "g"],
      ["starch", 70, "g"],
      ["foam", 60, "g"],
      ["red", 4, "g"],
      ["almond", 28, "g"],
      ["roseHip", 15, "g"],
      ["solubiliser", 6, "g"],
      ["alcohol", 22, "g"],
      ["acid", 265, "g"],
    ],
  },
  {
    blend: "juniper",
    forGrams: 1000,
    parts: [
      ["soda", 560, "g"],
      ["salt", 85, "g"],
      ["blue", 5, "g"],
      ["almond", 28, "g"],
      ["juniper", 14, "g"],
      ["solubiliser", 6, "g"],
      ["alcohol", 22, "g"],
      ["acid", 280, "g"],
    ],
  },
  {
    blend: "black-tea",
    forGrams: 1000,
    parts: [
      ["soda", 555, "g"],
      ["starch", 84, "g"],
      ["black", 7, "g"],
      ["almond", 30, "g"],
      ["blackTea", 16, "g"],
      ["solubiliser", 8, "g"],
      ["alcohol", 22, "g"],
      ["acid", 278, "g"],
    ],
  },
];
