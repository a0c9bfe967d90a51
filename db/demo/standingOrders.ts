import type { SampleDay } from "./orders.ts";
import type { SampleProduct } from "./products.ts";

interface SampleStandingOrder {
  /** The customer's name. */
  readonly customer: string;
  readonly everyWeeks: number;
  /** The first date on which it is needed; it comes again on the same day of the week. */
  readonly startsOn: SampleDay;
  /** How many days before each date its draft is made. */
  readonly daysBefore: number;
  readonly note: string;
  readonly lines: Readonly<Partial<Record<SampleProduct, number>>>;
}

/** One whose first draft waits already and whose second is still to come. */
export const sampleStandingOrders: readonly SampleStandingOrder[] = [
  {
    customer: "The Teaspoon Museum Shop",
    everyWeeks: 2,
    startsOn: { workday: 7 },
    daysBefore: 14,
    note: "For the shelf beside the ladle room.",
    lines: { "lavender/heart-70": 12, "orange-peel/heart-70": 12 },
  },
];
