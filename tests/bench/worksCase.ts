import { generator } from "../planning/generateCase.ts";
import type { JsonCase, JsonOrder, JsonShape } from "../planning/independentChecker.ts";

/** How large a workshop is and how much is ordered. */
export interface WorksSize {
  readonly orders: number;
  readonly sessions: number;
  readonly blends: number;
}

/** Far beyond any one workshop: about 40,000 pieces on a thousand orders, in thirty working days. */
export const works: WorksSize = { orders: 1_000, sessions: 60, blends: 60 };

/** From a handful of orders up to the works, everything growing together: what time and memory are measured against. */
export const ladder: readonly WorksSize[] = [
  { orders: 4, sessions: 6, blends: 3 },
  { orders: 12, sessions: 10, blends: 6 },
  { orders: 40, sessions: 20, blends: 12 },
  { orders: 120, sessions: 30, blends: 20 },
  { orders: 400, sessions: 48, blends: 40 },
  works,
];

/** A workshop whose molds, trays and hands are about as large as its orders need, drawn by a seed. */
export function worksCase({ orders, sessions, blends }: WorksSize, seed = 1): JsonCase {
  const chance = generator(seed);
  const below = (count: number) => Math.floor(chance() * count);
  const shapes = ["ball", "heart", "bar"].map((id, at) => shapeOf(id, at, (orders * 27) / sessions));
  const blendIds = Array.from({ length: blends }, (_, at) => `blend-${at + 1}`);
  const products = blendIds.flatMap((blend, at) =>
    shapes
      .filter((_, shape) => shape === at % 3 || chance() < 0.5)
      .map((shape) => ({ id: `${blend}/${shape.id}`, blend, shape: shape.id })),
  );
  const dates = datesOf(Math.ceil(sessions / 2));
  const perSession = (orders * 40) / sessions;
  return {
    name: `works of ${orders} orders`,
    sessions: dates
      .flatMap((date) => [
        { date, start: "09:00", end: "13:00", ...(chance() < 0.1 ? { dryingFactor: 1.3 } : {}) },
        { date, start: "14:00", end: "17:30" },
      ])
      .slice(0, sessions)
      .map((session) => ({ ...session, handMinutes: Math.ceil(60 + perSession * 4) })),
    mixers: Math.ceil(perSession / 120),
    bowlGrams: 4_200,
    minBowlGrams: 1_200,
    bowlMinutes: 30,
    mixMinutes: 18,
    cleanMinutes: 9,
    trays: Math.ceil(8 + perSession / 4.5),
    shapes,
    blends: blendIds.map((id, at) => ({ id, shade: at / blends })),
    products,
    stock: products.filter(() => chance() < 0.3).map(({ id }) => ({ product: id, units: 1 + below(30) })),
    orders: Array.from({ length: orders }, (_, at) => orderOf(at, dates, products, below, chance)),
  };
}

/** Pieces on order in a case. */
export function piecesOf(json: JsonCase): number {
  return json.orders.flatMap(({ lines }) => lines).reduce((sum, { units }) => sum + units, 0);
}

/** `aDay` pieces of the shape are wanted a day; a mold is free again the next one. */
function shapeOf(id: string, at: number, aDay: number): JsonShape {
  const driesIn = ["half", "whole", "none"][at] ?? "none";
  return {
    id,
    moldSets: Math.ceil((1.15 * aDay) / (driesIn === "half" ? 2 : 1)),
    driesIn,
    moldHours: [16, 15, 4][at] ?? 16,
    restHours: [8, 6, 18][at] ?? 8,
    unitsPerTray: [20, 18, 30][at] ?? 20,
    grams: [118, 96, 140][at] ?? 100,
    formMinutes: 0.8,
    turnMinutes: 0.06,
    unmoldMinutes: 0.25,
    packMinutes: 1.1,
  };
}

/** Working days from a Monday on, Sundays left out. */
function datesOf(count: number): readonly string[] {
  return Array.from({ length: count }, (_, at) =>
    new Date(Date.UTC(2027, 2, 1 + at + Math.floor(at / 6))).toISOString().slice(0, 10),
  );
}

function orderOf(
  at: number,
  dates: readonly string[],
  products: JsonCase["products"],
  below: (count: number) => number,
  chance: () => number,
): JsonOrder {
  const wanted = new Set(
    Array.from({ length: 1 + below(4) }, () => products[below(products.length)]?.id ?? ""),
  );
  const terms = ["complete", "complete", "complete", "as-ready", "market"][below(5)] ?? "complete";
  return {
    id: `W-${at + 1}`,
    terms,
    // Few are due before anything could have dried.
    shipBy: dates[Math.min(dates.length - 1, 3 + below(dates.length))] ?? "",
    weight: chance() < 0.2 ? 2 : 1,
    lines: [...wanted].map((product) => ({ product, units: 6 * (1 + below(5)) })),
  };
}
