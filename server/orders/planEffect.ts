import type { PlanCase } from "../planning/case.ts";
import type { OrderOutcome, Plan } from "../planning/plan.ts";
import { type Fate, worsening } from "../plans/fate.ts";

/** How an order would fare otherwise than it does. */
export interface Moved {
  readonly order: string;
  readonly before: Fate;
  readonly after: Fate;
}

/**
 * The orders that become later or earlier against their dates, the worst change first. The day on which an order in
 * time is ready is nobody's promise, so it does not count. An order that is only in one of the plans is left out.
 */
export function movedOrders(before: Plan, after: Plan): readonly Moved[] {
  const known = new Map(before.orders.map((outcome) => [outcome.id, outcome]));
  return after.orders
    .flatMap((outcome): readonly Moved[] => {
      const was = known.get(outcome.id);
      if (was === undefined || (was.daysLate === outcome.daysLate && was.unitsShort === outcome.unitsShort))
        return [];
      return [{ order: outcome.id, before: fateOf(was), after: fateOf(outcome) }];
    })
    .sort((one, other) => worsening(other) - worsening(one));
}

function fateOf({ daysLate, unitsShort }: OrderOutcome): Fate {
  return { daysLate, unitsShort };
}

/**
 * Pieces that are made or begun and that nobody would wait for any more: they go to the shelf.
 *
 * @param unpacked pieces that come out of boxes by the change, by product.
 * @returns by product, only where there are more of them than before.
 */
export function freedPieces(
  before: PlanCase,
  after: PlanCase,
  unpacked: ReadonlyMap<string, number>,
): ReadonlyMap<string, number> {
  const spareNow = spare(before, new Map());
  return new Map(
    [...spare(after, unpacked)]
      .map(([product, units]) => [product, units - (spareNow.get(product) ?? 0)] as const)
      .filter(([, units]) => units > 0),
  );
}

/** What is there or on its way beyond what is still to be packed, by product. */
function spare(
  { stock, drying, orders }: PlanCase,
  unpacked: ReadonlyMap<string, number>,
): ReadonlyMap<string, number> {
  const left = new Map(unpacked);
  const add = (product: string, units: number) => left.set(product, (left.get(product) ?? 0) + units);
  for (const { product, units } of [...stock, ...drying]) add(product, units);
  for (const { product, units } of orders.flatMap(({ lines }) => lines)) add(product, -units);
  return new Map([...left].map(([product, units]) => [product, Math.max(0, units)]));
}
