import { generator } from "./generateCase.ts";
import type { JsonCase, JsonDrying, JsonOrder, JsonShape } from "./independentChecker.ts";

/**
 * A case of 3 to 5 sessions drawn by a seed, small enough that trying everything takes a fraction of a second, and tight
 * enough that there is something to decide: one to four mold sets, bowls of two to six pieces, short sessions.
 */
export function tinyCase(seed: number): JsonCase {
  const chance = generator(seed * 7 + 3);
  const below = (count: number) => Math.floor(chance() * count);
  const pick = <Item>(items: readonly [Item, ...Item[]]): Item => items[below(items.length)] ?? items[0];
  const shapes = Array.from({ length: 1 + below(2) }, (_, at) => tinyShape(at, pick));
  const blends = Array.from({ length: 1 + below(2) }, (_, at) => ({ id: `blend-${at}`, shade: at / 2 }));
  const products = blends
    .flatMap((blend) =>
      shapes.map((shape) => ({ id: `${blend.id}/${shape.id}`, blend: blend.id, shape: shape.id })),
    )
    .filter((_, at) => at < 3);
  const sessions = tinySessions(pick([3, 4, 5, 5]), pick, chance);
  const dates = sessions.map(({ date }) => date);
  const anyOf = <Item>(items: readonly Item[], otherwise: Item) => items[below(items.length)] ?? otherwise;
  const product = () => anyOf(products, { id: "", blend: "", shape: "" }).id;
  const date = () => anyOf(dates, "");
  const lateDate = () => anyOf(dates.slice(-2), "");
  const bowlGrams = pick([300, 400, 600]);
  return {
    name: `tiny ${seed}`,
    sessions,
    mixers: pick([1, 1, 2]),
    bowlGrams,
    minBowlGrams: bowlGrams * pick([0, 0, 0.3, 0.5]),
    bowlMinutes: pick([60, 90, 120]),
    mixMinutes: pick([10, 16.5]),
    cleanMinutes: pick([0, 8, 12]),
    trays: pick([2, 3, 4, 8]),
    shapes,
    blends,
    products,
    stock: products.filter(() => chance() < 0.2).map(({ id }) => ({ product: id, units: 1 + below(2) })),
    drying: Array.from({ length: below(5) === 0 ? 1 : 0 }, () => tinyDrying(product(), date, pick)),
    orders: Array.from({ length: 1 + below(3) }, (_, at) =>
      tinyOrder(at, product, pick([lateDate(), lateDate(), date()]), pick),
    ),
  };
}

type Pick = <Item>(items: readonly [Item, ...Item[]]) => Item;

function tinyShape(at: number, pick: Pick): JsonShape {
  return {
    id: `shape-${at}`,
    moldSets: pick([1, 2, 3, 4]),
    driesIn: pick(["half", "whole", "whole", "none"]),
    moldHours: pick([0, 0.5, 2, 16]),
    restHours: pick([0, 0, 0.5, 8]),
    unitsPerTray: pick([1, 2, 3]),
    grams: pick([100, 100, 87.5, 140]),
    formMinutes: pick([0.4, 1, 6]),
    turnMinutes: pick([0, 0.06, 1]),
    unmoldMinutes: pick([0.15, 0.25, 3]),
    packMinutes: pick([0.5, 1.1, 5]),
  };
}

function tinySessions(count: number, pick: Pick, chance: () => number): JsonCase["sessions"] {
  let day = 1;
  let afternoon = false;
  return Array.from({ length: count }, (_, at) => {
    if (at > 0 && !afternoon && chance() < 0.3) afternoon = true;
    else if (at > 0) {
      day += chance() < 0.2 ? 3 : 1;
      afternoon = false;
    }
    return {
      date: `2027-03-${String(day).padStart(2, "0")}`,
      start: afternoon ? "14:00" : "09:00",
      end: afternoon ? "17:30" : "13:00",
      handMinutes: pick([20, 45, 60, 90, 240]),
      ...(chance() < 0.15 ? { mixing: false } : {}),
      ...(chance() < 0.2 ? { dryingFactor: pick([1.25, 1.5]) } : {}),
    };
  });
}

function tinyDrying(product: string, date: () => string, pick: Pick): JsonDrying {
  return {
    product,
    units: pick([1, 2, 4]),
    trays: pick([0, 1, 2]),
    unmoldAt: pick([null, `${date()}T08:00`]),
    packAt: pick([`${date()}T08:00`, `${date()}T14:00`, "2031-01-01T00:00"]),
  };
}

function tinyOrder(at: number, product: () => string, shipBy: string, pick: Pick): JsonOrder {
  const wanted = new Set(Array.from({ length: pick([1, 1, 2]) }, product));
  return {
    id: `W-${at + 1}`,
    terms: pick(["complete", "complete", "as-ready", "market"]),
    shipBy,
    weight: pick([1, 1, 2, 3, 0.5]),
    lines: [...wanted].map((id) => ({ product: id, units: pick([1, 2, 3, 5]) })),
  };
}
