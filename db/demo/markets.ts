import type { SampleProduct } from "./products.ts";

const clock = (hour: number, minute = 0) => hour * 60 + minute;

/** How the invented markets usually are. Times in minutes from midnight, fees in cents. */
export const sampleStalls = [
  {
    customer: "Saturday market on Walrus Green",
    kind: "weekly market",
    place: "Under the clock",
    opensMinute: clock(9),
    closesMinute: clock(14),
    feeMinor: 3500,
    loadingMinutes: 60,
    /** Every Saturday. */
    comesAgain: true,
  },
  {
    customer: "The Fair of Lost Umbrellas",
    kind: "fair",
    place: "The bandstand",
    opensMinute: clock(10),
    closesMinute: clock(18),
    feeMinor: 9000,
    loadingMinutes: 120,
    comesAgain: false,
  },
] as const;

/** What became of one product: taken, came home, and where none did, when the last one went (null: nobody looked). */
type Outcome = readonly [taken: number, home: number, soldOutMinute?: number | null];

interface SamplePastMarket {
  readonly customer: (typeof sampleStalls)[number]["customer"];
  /** Days before the sample's market Saturday, which is up to ten days ahead. */
  readonly daysBefore: number;
  readonly outcomes: Readonly<Partial<Record<SampleProduct, Outcome>>>;
}

/** Five Saturdays and a fair: lavender always runs out, pucks come home, juniper was never taken. */
export const samplePastMarkets: readonly SamplePastMarket[] = [
  {
    customer: "Saturday market on Walrus Green",
    daysBefore: 42,
    outcomes: {
      "oat-milk/ball-60": [18, 4],
      "lavender/ball-60": [18, 0, clock(12, 40)],
      "cedar/ball-60": [12, 5],
      "rose-hip/ball-60": [12, 3],
      "oat-milk/heart-70": [12, 2],
      "lavender/heart-70": [12, 1],
      "sea-fennel/puck-40": [24, 11],
      "oat-milk/puck-40": [24, 9],
    },
  },
  {
    customer: "Saturday market on Walrus Green",
    daysBefore: 35,
    outcomes: {
      "oat-milk/ball-60": [18, 1],
      "lavender/ball-60": [20, 0, clock(13, 10)],
      "cedar/ball-60": [12, 2],
      "black-tea/ball-60": [10, 4],
      "oat-milk/heart-70": [12, 3],
      "lavender/heart-70": [12, 0, null],
      "sea-fennel/puck-40": [20, 6],
      "oat-milk/puck-40": [20, 5],
    },
  },
  {
    customer: "Saturday market on Walrus Green",
    daysBefore: 28,
    outcomes: {
      "oat-milk/ball-60": [20, 2],
      "lavender/ball-60": [24, 2],
      "cedar/ball-60": [12, 6],
      "orange-peel/ball-60": [12, 0, clock(11, 30)],
      "oat-milk/heart-70": [12, 0, clock(13, 30)],
      "lavender/heart-70": [14, 2],
      "sea-fennel/puck-40": [20, 9],
      "cedar/puck-40": [16, 10],
    },
  },
  {
    customer: "Saturday market on Walrus Green",
    daysBefore: 21,
    outcomes: {
      "oat-milk/ball-60": [20, 7],
      "lavender/ball-60": [24, 5],
      "cedar/ball-60": [10, 4],
      "orange-peel/ball-60": [14, 3],
      "rose-hip/heart-70": [10, 4],
      "lavender/heart-70": [12, 3],
      "sea-fennel/puck-40": [18, 10],
      "oat-milk/puck-40": [20, 12],
    },
  },
  {
    customer: "Saturday market on Walrus Green",
    daysBefore: 14,
    outcomes: {
      "oat-milk/ball-60": [18, 0, clock(13, 45)],
      "lavender/ball-60": [22, 0, clock(12, 15)],
      "cedar/ball-60": [10, 3],
      "orange-peel/ball-60": [14, 1],
      "oat-milk/heart-70": [12, 4],
      "lavender/heart-70": [12, 2],
      "sea-fennel/puck-40": [18, 5],
      "oat-milk/puck-40": [18, 8],
    },
  },
  {
    customer: "The Fair of Lost Umbrellas",
    daysBefore: 84,
    outcomes: {
      "oat-milk/ball-60": [40, 6],
      "lavender/ball-60": [48, 0, clock(16)],
      "rose-hip/ball-60": [30, 4],
      "black-tea/ball-60": [24, 11],
      "rose-hip/heart-70": [24, 0, null],
      "oat-milk/puck-40": [40, 13],
    },
  },
];
