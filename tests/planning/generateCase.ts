import type { JsonCase, JsonDrying, JsonOrder } from "./independentChecker.ts";

/** How large a generated case is. */
export interface CaseSize {
  readonly days: number;
  readonly orders: number;
  readonly blends: number;
  /** Most pieces of one order line. */
  readonly units: number;
}

export const smallCase: CaseSize = { days: 5, orders: 6, blends: 4, units: 24 };

/**
 * A case drawn by a seed: damp days, sessions without mixing, several mixers, all three ways of drying, least bowls,
 * stock, drying pieces in every stage (some beyond a limit), all terms, due dates from before the start to after the end.
 */
export function generateCase(seed: number, size: CaseSize = smallCase): JsonCase {
  const chance = generator(seed);
  const below = (count: number) => Math.floor(chance() * count);
  const pick = <Item>(items: readonly [Item, ...Item[]]): Item => items[below(items.length)] ?? items[0];
  const shapes = shapesOf(below, pick, chance);
  const blends = Array.from({ length: 1 + below(size.blends) }, (_, at) => ({
    id: `blend-${at}`,
    shade: below(11) / 10,
  }));
  const products = blends.flatMap((blend, at) =>
    shapes
      .filter((_, shape) => shape === at % shapes.length || chance() < 0.5)
      .map((shape) => ({ id: `${blend.id}/${shape.id}`, blend: blend.id, shape: shape.id })),
  );
  const product = () => products[below(products.length)]?.id ?? "";
  const sessions = sessionsOf(size.days, below, pick, chance);
  const bowlGrams = pick([900, 2000, 2600, 4500]);
  return {
    name: `generated ${seed}`,
    sessions,
    mixers: pick([1, 1, 1, 2, 3, 0]),
    bowlGrams,
    minBowlGrams: Math.round(bowlGrams * pick([0, 0.2, 0.35, 0.6, 1])),
    bowlMinutes: pick([20, 35, 60]),
    mixMinutes: pick([0, 10, 16.5]),
    cleanMinutes: pick([0, 8, 12]),
    trays: pick([0, 2, 4, 8, 30, 30]),
    shapes,
    blends,
    products,
    stock: products.filter(() => chance() < 0.25).map(({ id }) => ({ product: id, units: 1 + below(8) })),
    drying: Array.from({ length: below(4) }, () => dryingOf(product(), sessions, below, pick)),
    orders: Array.from({ length: below(size.orders + 1) }, (_, at) =>
      orderOf(at, size, sessions, products, below, pick),
    ),
  };
}

/** Uniform numbers in [0, 1) by the minimal standard generator of Park and Miller (1988). */
export function generator(seed: number): () => number {
  let state = (seed * 48_271 + 11) % 2_147_483_647 || 1;
  const next = () => {
    state = (state * 48_271) % 2_147_483_647;
    return (state - 1) / 2_147_483_646;
  };
  for (let warm = 0; warm < 5; warm++) next();
  return next;
}

type Below = (count: number) => number;
type Pick = <Item>(items: readonly [Item, ...Item[]]) => Item;

function shapesOf(below: Below, pick: Pick, chance: () => number): JsonCase["shapes"] {
  const count = 1 + below(3);
  return Array.from({ length: count }, (_, at) => ({
    id: `shape-${at}`,
    moldSets: pick([0, 1, 4, 9, 20]),
    driesIn: pick(["half", "whole", "none"]),
    moldHours: pick([0, 4, 16, 19.5, 30]),
    restHours: pick([0, 0.5, 8, 23]),
    unitsPerTray: pick([1, 6, 15, 20]),
    grams: chance() < 0.2 ? 87.5 : pick([60, 118, 129, 240]),
    formMinutes: pick([0.4, 0.65, 1]),
    turnMinutes: pick([0, 0.06, 0.07]),
    unmoldMinutes: pick([0.15, 0.25]),
    packMinutes: pick([0.5, 1.1]),
  }));
}

function sessionsOf(days: number, below: Below, pick: Pick, chance: () => number): JsonCase["sessions"] {
  return Array.from({ length: days }, (_, at) => at).flatMap((at) => {
    const date = new Date(Date.UTC(2027, 1, 25 + at + Math.floor(at / 5) * 2)).toISOString().slice(0, 10);
    const damp = chance() < 0.2 ? { dryingFactor: pick([1.5, 1.25, 1.1]) } : {};
    const unmixed = chance() < 0.2 ? { mixing: false } : {};
    const morning = {
      date,
      start: "09:00",
      end: "13:00",
      handMinutes: pick([0, 60, 90, 240]),
      ...damp,
      ...unmixed,
    };
    const evening = { date, start: "14:00", end: "17:30", handMinutes: 30 + below(120), ...damp };
    return at === 0 || chance() < 0.5 ? [morning, evening] : [morning];
  });
}

function dryingOf(product: string, sessions: JsonCase["sessions"], below: Below, pick: Pick): JsonDrying {
  const session = sessions[below(sessions.length)];
  const late = sessions[Math.min(sessions.length - 1, 1 + below(sessions.length))];
  return {
    product,
    units: 1 + below(14),
    trays: below(3),
    unmoldAt: pick([null, `${sessions[0]?.date}T08:00`, `${session?.date}T14:00`, "2031-01-01T00:00"]),
    packAt: pick([`${late?.date}T08:00`, `${session?.date}T09:00`, "2031-01-01T00:00"]),
  };
}

function orderOf(
  at: number,
  size: CaseSize,
  sessions: JsonCase["sessions"],
  products: JsonCase["products"],
  below: Below,
  pick: Pick,
): JsonOrder {
  const wanted = new Set(
    Array.from({ length: 1 + below(3) }, () => products[below(products.length)]?.id ?? ""),
  );
  const date = sessions[below(sessions.length)]?.date ?? "";
  return {
    id: `W-${at + 1}`,
    terms: pick(["complete", "complete", "as-ready", "as-ready", "market"]),
    shipBy: pick([date, date, date, "2027-02-20", "2027-04-01"]),
    weight: pick([1, 1, 2, 3, 0.5]),
    lines: [...wanted].map((product) => ({ product, units: 1 + below(size.units) })),
  };
}
