import type { SampleProduct } from "./products.ts";

/** An order of the weeks before. Days are counted back from the day on which the sample is loaded. */
interface SamplePastOrder {
  readonly reference: string;
  /** The customer's name. */
  readonly customer: string;
  readonly confirmedDaysAgo: number;
  /** What was promised. */
  readonly shipByDaysAgo: number;
  readonly leftDaysAgo: number;
  readonly arrivedDaysAgo: number;
  /** What the carrier was told of its one parcel; null: it went on the local round. */
  readonly parcel: { readonly carrier: string; readonly grams: number; readonly tracking: string } | null;
  readonly lines: Readonly<Partial<Record<SampleProduct, number>>>;
}

/** Four weeks in which every promise but one was kept: the parlour's hearts came out of their molds two days late. */
export const samplePastOrders: readonly SamplePastOrder[] = [
  {
    reference: "W-091",
    customer: "The Lamplit Otter",
    ...{ confirmedDaysAgo: 38, shipByDaysAgo: 31, leftDaysAgo: 31, arrivedDaysAgo: 31, parcel: null },
    lines: { "oat-milk/ball-60": 18, "cedar/ball-60": 12 },
  },
  {
    reference: "W-092",
    customer: "Quill & Custard",
    ...{ confirmedDaysAgo: 33, shipByDaysAgo: 26, leftDaysAgo: 27, arrivedDaysAgo: 25 },
    parcel: { carrier: "Slow Heron Post", grams: 4_300, tracking: "SH 000 000 092" },
    lines: { "black-tea/ball-60": 24 },
  },
  {
    reference: "W-093",
    customer: "Madam Fogbottom's Parlour",
    ...{ confirmedDaysAgo: 29, shipByDaysAgo: 21, leftDaysAgo: 19, arrivedDaysAgo: 17 },
    parcel: { carrier: "Slow Heron Post", grams: 3_900, tracking: "SH 000 000 093" },
    lines: { "rose-hip/heart-70": 18 },
  },
  {
    reference: "W-094",
    customer: "Three Left Boots",
    ...{ confirmedDaysAgo: 21, shipByDaysAgo: 14, leftDaysAgo: 14, arrivedDaysAgo: 14, parcel: null },
    lines: { "cedar/puck-40": 24, "oat-milk/puck-40": 24 },
  },
  {
    reference: "W-095",
    customer: "The Bathtub Observatory",
    ...{ confirmedDaysAgo: 16, shipByDaysAgo: 9, leftDaysAgo: 10, arrivedDaysAgo: 8 },
    parcel: { carrier: "Badger & Barrow", grams: 5_600, tracking: "" },
    lines: { "lavender/ball-60": 24, "sea-fennel/ball-60": 6 },
  },
  {
    reference: "W-096",
    customer: "The Lamplit Otter",
    ...{ confirmedDaysAgo: 12, shipByDaysAgo: 5, leftDaysAgo: 5, arrivedDaysAgo: 5, parcel: null },
    lines: { "lavender/ball-60": 12, "orange-peel/ball-60": 12 },
  },
];
