import type { SampleProduct } from "./products.ts";

/** A date that moves with the day the sample is loaded: so many working days on, or the Saturday of the market. */
export type SampleDay = { readonly workday: number } | "market-saturday";

interface SampleOrder {
  readonly reference: string;
  /** The customer's name. */
  readonly customer: string;
  readonly shipBy: SampleDay;
  readonly state: "draft" | "confirmed";
  readonly lines: Readonly<Partial<Record<SampleProduct, number>>>;
}

/** A week in which everybody wants balls, and the ball molds can't give them all in time. */
export const sampleOrders: readonly SampleOrder[] = [
  {
    reference: "W-101",
    customer: "The Sleepy Barnacle",
    shipBy: { workday: 0 },
    state: "confirmed",
    lines: { "sea-fennel/puck-40": 12, "black-tea/puck-40": 12 },
  },
  {
    reference: "W-102",
    customer: "The Lamplit Otter",
    shipBy: { workday: 1 },
    state: "confirmed",
    lines: { "cedar/ball-60": 12, "lavender/ball-60": 12 },
  },
  {
    reference: "W-103",
    customer: "Three Left Boots",
    shipBy: { workday: 2 },
    state: "confirmed",
    lines: { "oat-milk/ball-60": 12, "cedar/puck-40": 24 },
  },
  {
    reference: "W-104",
    customer: "Madam Fogbottom's Parlour",
    shipBy: { workday: 3 },
    state: "confirmed",
    lines: { "rose-hip/ball-60": 18, "rose-hip/heart-70": 12 },
  },
  {
    reference: "W-105",
    customer: "Quill & Custard",
    shipBy: { workday: 3 },
    state: "confirmed",
    lines: { "black-tea/ball-60": 18, "black-tea/puck-40": 18 },
  },
  {
    reference: "W-106",
    customer: "Pumpernickel & Seven Daughters",
    shipBy: { workday: 4 },
    state: "confirmed",
    lines: { "oat-milk/ball-60": 14, "oat-milk/heart-70": 14, "oat-milk/puck-40": 14 },
  },
  {
    reference: "W-107",
    customer: "The Upside-Down Lighthouse",
    shipBy: { workday: 4 },
    state: "confirmed",
    lines: { "sea-fennel/ball-60": 24, "juniper/ball-60": 12 },
  },
  {
    reference: "W-108",
    customer: "The Teaspoon Museum Shop",
    shipBy: { workday: 4 },
    state: "confirmed",
    lines: { "orange-peel/ball-60": 16, "orange-peel/heart-70": 12 },
  },
  {
    reference: "W-109",
    customer: "Grandfather Moth",
    shipBy: { workday: 5 },
    state: "confirmed",
    lines: { "juniper/ball-60": 18, "black-tea/ball-60": 6 },
  },
  {
    reference: "W-110",
    customer: "The Bathtub Observatory",
    shipBy: { workday: 5 },
    state: "confirmed",
    lines: { "lavender/ball-60": 18, "sea-fennel/ball-60": 12, "lavender/heart-70": 12 },
  },
  {
    reference: "W-111",
    customer: "The Ninth Hen",
    shipBy: { workday: 6 },
    state: "confirmed",
    lines: { "cedar/ball-60": 24, "cedar/puck-40": 20 },
  },
  {
    reference: "W-112",
    customer: "Thimble for a Giant",
    shipBy: { workday: 6 },
    state: "confirmed",
    lines: { "orange-peel/ball-60": 24, "rose-hip/ball-60": 24 },
  },
  {
    reference: "M-101",
    customer: "Saturday market on Walrus Green",
    shipBy: "market-saturday",
    state: "confirmed",
    lines: {
      "lavender/ball-60": 10,
      "oat-milk/ball-60": 10,
      "cedar/ball-60": 10,
      "lavender/heart-70": 10,
      "sea-fennel/puck-40": 20,
      "oat-milk/puck-40": 20,
    },
  },
  {
    reference: "W-113",
    customer: "The Lamplit Otter",
    shipBy: { workday: 8 },
    state: "confirmed",
    lines: { "oat-milk/ball-60": 18, "lavender/puck-40": 24, "oat-milk/heart-70": 12 },
  },
  {
    reference: "M-102",
    customer: "The Fair of Lost Umbrellas",
    shipBy: { workday: 9 },
    state: "confirmed",
    lines: {
      "orange-peel/heart-70": 24,
      "rose-hip/heart-70": 24,
      "lavender/puck-40": 30,
      "juniper/ball-60": 12,
    },
  },
  {
    reference: "W-114",
    customer: "Quill & Custard",
    shipBy: { workday: 9 },
    state: "draft",
    lines: { "black-tea/ball-60": 36 },
  },
];
