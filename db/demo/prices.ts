import type { SampleProduct, ShapeCode } from "./products.ts";

/** ISO 4217. Prices are invented, in cents. */
export const sampleCurrency = "EUR";

/** A round rate of no particular country. */
export const sampleTaxGroups = [
  { name: "Taxed at home", ratePpm: 200_000, usual: true },
  { name: "Shops abroad", ratePpm: 0, usual: false },
] as const;

/** From long enough ago that every order of the sample finds them. */
export const sampleValidFrom = "2020-01-01";

/** What each shape costs: shops pay the tax on top, on the stall it is in the price. */
export const samplePriceLists = [
  {
    name: "Shop prices",
    kind: "wholesale",
    includesTax: false,
    prices: { "ball-60": 285, "heart-70": 240, "puck-40": 155 },
  },
  {
    name: "Stall prices",
    kind: "retail",
    includesTax: true,
    prices: { "ball-60": 590, "heart-70": 490, "puck-40": 320 },
  },
] as const satisfies readonly {
  readonly name: string;
  readonly kind: "wholesale" | "retail";
  readonly includesTax: boolean;
  readonly prices: Readonly<Record<ShapeCode, number>>;
}[];

/** What making a piece costs: ingredients, wrapping and hands. */
export const sampleMakingCosts: Readonly<Record<ShapeCode, number>> = {
  "ball-60": 165,
  "heart-70": 140,
  "puck-40": 90,
};

/** Pieces in a case, for everybody who has none of their own. */
export const sampleCases: Readonly<Record<ShapeCode, number>> = { "ball-60": 6, "heart-70": 6, "puck-40": 6 };

/** Agreed with one shop. */
export const sampleOwnPrices: readonly {
  /** The customer's name. */
  readonly customer: string;
  readonly prices: Readonly<Partial<Record<SampleProduct, number>>>;
}[] = [{ customer: "The Lamplit Otter", prices: { "lavender/ball-60": 265, "oat-milk/ball-60": 265 } }];
