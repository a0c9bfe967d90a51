import type { SampleProduct } from "./products.ts";

/** Pieces ready on the shelf. */
export const sampleStock: Readonly<Partial<Record<SampleProduct, number>>> = {
  "sea-fennel/puck-40": 26,
  "black-tea/puck-40": 14,
  "cedar/ball-60": 12,
  "lavender/heart-70": 6,
  "oat-milk/puck-40": 8,
};

/** Where it stands; what is not named here nobody has put anywhere yet. */
export const samplePlaces: Readonly<Partial<Record<SampleProduct, string>>> = {
  "sea-fennel/puck-40": "B2",
  "black-tea/puck-40": "A10",
  "cedar/ball-60": "A3",
  "lavender/heart-70": "B1",
};

interface SampleDrying {
  readonly product: SampleProduct;
  readonly units: number;
  /** Hours from now until it may leave its mold; null when it is already out. */
  readonly unmoldInHours: number | null;
  /** Hours from now until it may be packed. */
  readonly readyInHours: number;
}

/** What was pressed yesterday and the day before. */
export const sampleDrying: readonly SampleDrying[] = [
  { product: "lavender/ball-60", units: 16, unmoldInHours: null, readyInHours: 2 },
  { product: "oat-milk/ball-60", units: 12, unmoldInHours: 1, readyInHours: 9 },
  { product: "rose-hip/heart-70", units: 12, unmoldInHours: 3, readyInHours: 11 },
];
