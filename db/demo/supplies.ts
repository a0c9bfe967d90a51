import type { SampleProduct } from "./products.ts";
import type { SampleIngredient } from "./recipes.ts";

/*
 * Where the sample workshop buys, and what lies on its shelf. Suppliers are invented; prices say nothing of any real
 * one. Days are counted from the day the sample is opened.
 */

export const sampleSuppliers = [
  {
    code: "tarn",
    name: "Tarn & Thimble Minerals",
    deliveryDays: 3,
    orderWeekdays: [1, 2, 3, 4, 5],
    contact: "Ask for Perpetua Quill; account 0417. Free delivery from 20 kg.",
  },
  {
    code: "lantern",
    name: "The Lantern Distillery",
    deliveryDays: 5,
    orderWeekdays: [],
    contact: "Through their own order page; certificates come with the parcel.",
  },
  {
    code: "heron",
    name: "Paper Heron & Daughters",
    deliveryDays: 4,
    orderWeekdays: [2, 4],
    contact: "By telephone before noon on Tuesday or Thursday.",
  },
] as const;

export type SampleSupplier = (typeof sampleSuppliers)[number]["code"];

/** What pieces of the sample are packed with. */
export const samplePackaging = {
  cup: { name: "Paper cup, 70 mm", kind: "cup" },
  bag: { name: "Clear bag, 10 by 15 cm", kind: "bag" },
  tie: { name: "Raffia tie", kind: "tie" },
  label: { name: "Label, 38 mm square", kind: "label" },
  sleeve: { name: "Puck sleeve", kind: "wrap" },
  box: { name: "Shop box for a dozen", kind: "box" },
} as const;

export type SamplePackaging = keyof typeof samplePackaging;

type Unit = "g" | "kg" | "ml" | "piece";

interface SamplePack {
  readonly of: SampleIngredient | SamplePackaging;
  readonly from: SampleSupplier;
  readonly content: number;
  readonly unit: Unit;
  /** Of one pack, in hundredths of the currency. */
  readonly priceMinor: number;
  readonly leastPacks?: number;
}

const scent = (of: SampleIngredient, priceMinor: number): SamplePack => ({
  of,
  from: "lantern",
  content: 100,
  unit: "g",
  priceMinor,
});
const mica = (of: SampleIngredient): SamplePack => ({
  of,
  from: "lantern",
  content: 50,
  unit: "g",
  priceMinor: 640,
});

/** The first pack of each is the one that is bought as a rule. */
export const samplePacks: readonly SamplePack[] = [
  { of: "soda", from: "tarn", content: 25, unit: "kg", priceMinor: 3350 },
  { of: "soda", from: "tarn", content: 5, unit: "kg", priceMinor: 990 },
  { of: "acid", from: "tarn", content: 5, unit: "kg", priceMinor: 2190 },
  { of: "starch", from: "tarn", content: 2, unit: "kg", priceMinor: 760 },
  { of: "salt", from: "tarn", content: 5, unit: "kg", priceMinor: 1280 },
  { of: "oats", from: "tarn", content: 2, unit: "kg", priceMinor: 820 },
  { of: "foam", from: "tarn", content: 1, unit: "kg", priceMinor: 1490 },
  { of: "almond", from: "lantern", content: 1000, unit: "ml", priceMinor: 1650 },
  { of: "solubiliser", from: "lantern", content: 500, unit: "g", priceMinor: 980 },
  { of: "alcohol", from: "lantern", content: 1000, unit: "ml", priceMinor: 890, leastPacks: 2 },
  ...(["lilac", "green", "orange", "brown", "red", "blue", "black"] as const).map(mica),
  scent("oatMilk", 1120),
  scent("lavender", 1340),
  scent("seaFennel", 1480),
  scent("orangePeel", 990),
  scent("cedar", 1260),
  scent("roseHip", 1390),
  scent("juniper", 1290),
  scent("blackTea", 1420),
  { of: "cup", from: "heron", content: 250, unit: "piece", priceMinor: 1150 },
  { of: "bag", from: "heron", content: 500, unit: "piece", priceMinor: 1450 },
  { of: "tie", from: "heron", content: 100, unit: "piece", priceMinor: 390 },
  { of: "label", from: "heron", content: 480, unit: "piece", priceMinor: 1680 },
  { of: "sleeve", from: "heron", content: 100, unit: "piece", priceMinor: 980 },
  { of: "box", from: "heron", content: 25, unit: "piece", priceMinor: 1375 },
];

/** What an hour of hands costs the sample workshop, in hundredths of the currency. */
export const sampleHourMinor = 1600;

interface SampleLot {
  readonly of: SampleIngredient | SamplePackaging;
  readonly supplierLot: string;
  readonly amount: number;
  readonly unit: Unit;
  /** What was paid, in per cent of what its supplier asks today. */
  readonly paidPercent: number;
  readonly daysAgo: number;
  /** Days from now for which it is good; null: it does not expire. */
  readonly goodForDays: number | null;
}

const lot = (
  of: SampleLot["of"],
  supplierLot: string,
  [amount, unit]: readonly [number, Unit],
  daysAgo: number,
  goodForDays: number | null,
  paidPercent = 100,
): SampleLot => ({ of, supplierLot, amount, unit, paidPercent, daysAgo, goodForDays });

export const sampleLots: readonly SampleLot[] = [
  lot("soda", "TT-0881", [6.4, "kg"], 70, 260, 95),
  lot("soda", "TT-0934", [25, "kg"], 12, 420),
  lot("acid", "TT-0877", [2.1, "kg"], 64, 18, 92),
  lot("acid", "TT-0941", [9, "kg"], 12, 300),
  lot("starch", "TT-0820", [3.2, "kg"], 40, 180),
  lot("salt", "TT-0822", [4.6, "kg"], 40, null),
  lot("oats", "TT-0901", [1.4, "kg"], 30, 45),
  lot("foam", "TT-0902", [0.85, "kg"], 30, 240),
  lot("almond", "LD-2207", [900, "ml"], 35, 150),
  lot("almond", "LD-2319", [1000, "ml"], 5, 330, 104),
  lot("solubiliser", "LD-2208", [410, "g"], 35, 400),
  lot("alcohol", "LD-2301", [1600, "ml"], 8, null),
  lot("lilac", "LD-M14", [44, "g"], 90, null),
  lot("green", "LD-M15", [38, "g"], 90, null),
  lot("orange", "LD-M16", [41, "g"], 90, null),
  lot("brown", "LD-M17", [47, "g"], 90, null),
  lot("red", "LD-M18", [29, "g"], 90, null),
  lot("blue", "LD-M19", [50, "g"], 20, null),
  lot("black", "LD-M20", [33, "g"], 90, null),
  lot("oatMilk", "LD-S301", [186, "g"], 35, 200),
  lot("lavender", "LD-S288", [20, "g"], 190, -4),
  lot("lavender", "LD-S302", [95, "g"], 35, 210),
  lot("seaFennel", "LD-S303", [132, "g"], 35, 190),
  lot("orangePeel", "LD-S304", [161, "g"], 35, 120),
  lot("cedar", "LD-S305", [158, "g"], 35, 220),
  lot("roseHip", "LD-S306", [177, "g"], 35, 205),
  lot("juniper", "LD-S307", [164, "g"], 35, 215),
  lot("blackTea", "LD-S308", [90, "g"], 35, 225),
  // As much as the orders of the weeks before took of it, and what is there today.
  lot("cup", "", [686, "piece"], 50, null),
  lot("bag", "", [746, "piece"], 50, null),
  lot("tie", "", [211, "piece"], 50, null),
  lot("label", "", [1044, "piece"], 50, null),
  lot("sleeve", "", [288, "piece"], 50, null),
  lot("box", "", [59, "piece"], 50, null),
];

/** What one piece is packed with, by its shape; a box holds a dozen. */
export function samplePackingOf(
  product: SampleProduct,
): readonly (readonly [SamplePackaging, amount: number, forPieces: number])[] {
  const around = product.endsWith("/puck-40") ? (["sleeve"] as const) : (["cup", "bag", "tie"] as const);
  return [...around.map((packaging) => [packaging, 1, 1] as const), ["label", 1, 1], ["box", 1, 12]];
}
