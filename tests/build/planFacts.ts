import type { Calendar, WeekSession } from "../../server/plans/calendar.ts";
import type { LotFacts, OrderFacts, PlanFacts, ShapeFacts } from "../../server/plans/planFacts.ts";

/*
 * What a plan is made from, valid by default: one shape drying in halves, one blend, one order. Say only what matters.
 */

/** Every day from 09:00 to 13:00, four hand hours. */
export const everyDay: readonly WeekSession[] = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({
  weekday,
  startsMinute: 9 * 60,
  endsMinute: 13 * 60,
  handMinutes: 240,
  mixing: true,
}));

export function calendarOf(given: Partial<Calendar> = {}): Calendar {
  return { timeZone: "UTC", horizonDays: 5, week: everyDay, exceptions: [], ...given };
}

export const ball: ShapeFacts = {
  code: "ball-60",
  moldSets: 24,
  driesIn: "half",
  moldMinutes: 16 * 60,
  restMinutes: 8 * 60,
  unitsPerTray: 20,
  pieceMilligrams: 118_000,
  formSeconds: 48,
  turnSeconds: 6,
  unmoldSeconds: 15,
  packSeconds: 66,
};

export function factsOf(given: Partial<PlanFacts> = {}): PlanFacts {
  return {
    workshop: {
      name: "Tidepool & Thimble",
      trays: 8,
      mixers: 1,
      bowlMilligrams: 2_600_000,
      minBowlMilligrams: 900_000,
      bowlMinutes: 30,
      mixMinutes: 20,
      cleanMinutes: 12,
    },
    calendar: calendarOf(),
    shapes: [ball],
    blends: [{ code: "cedar", shade: 0.7 }],
    products: [{ code: "cedar/ball-60", blend: "cedar", shape: "ball-60", lossBasisPoints: 0 }],
    stock: [],
    lots: [],
    runsOnBench: [],
    orders: [orderOf()],
    ...given,
  };
}

export function orderOf(given: Partial<OrderFacts> = {}): OrderFacts {
  return {
    reference: "W-104",
    terms: "complete",
    shipBy: "2027-03-05",
    weight: 1,
    lines: [{ product: "cedar/ball-60", units: 36 }],
    ...given,
  };
}

/** Twelve pieces in their molds since before the first plan. */
export function lotOf(given: Partial<LotFacts> = {}): LotFacts {
  return {
    lotId: 1,
    product: "cedar/ball-60",
    state: "drying",
    units: 12,
    pressed: given.units ?? 12,
    stopped: false,
    trays: 1,
    dryingFactor: 1,
    sessionEndsAt: null,
    unmoldDueAt: new Date("2027-03-01T09:00:00Z"),
    readyDueAt: new Date("2027-03-01T17:00:00Z"),
    ...given,
  };
}
