import type { OrderFigures, SourceFigures } from "../../views/plans/planFigures.ts";
import type { Order } from "../planning/case.ts";
import type { OrderOutcome } from "../planning/plan.ts";
import { horizonOf } from "../planning/timing/horizon.ts";
import { type Batch, batchesOf } from "./batches.ts";
import type { KeptPlan } from "./keptPlan.ts";
import type { PlanNames } from "./queries.ts";
import { orderedInAll } from "./spares.ts";

/** What becomes of each order, those in trouble first, then by ship-by date. */
export function orderFigures(kept: KeptPlan, names: PlanNames): readonly OrderFigures[] {
  const outcomes = new Map(kept.plan.orders.map((outcome) => [outcome.id, outcome]));
  const batches = batchesOf(kept);
  return kept.planCase.orders
    .flatMap((order) => {
      const outcome = outcomes.get(order.id);
      return outcome === undefined ? [] : [oneOrder(order, outcome, kept, names, batches)];
    })
    .sort(
      (one, other) =>
        trouble[one.fate] - trouble[other.fate] ||
        other.daysLate - one.daysLate ||
        compareText(one.shipBy, other.shipBy) ||
        compareText(one.reference, other.reference),
    );
}

const trouble = { short: 0, late: 1, tight: 2, safe: 3 } as const;

function oneOrder(
  order: Order,
  outcome: OrderOutcome,
  kept: KeptPlan,
  names: PlanNames,
  batches: readonly Batch[],
): OrderFigures {
  const { orderId, customer } = names.order(order.id);
  const sources = sourcesOf(order, kept, names, batches);
  return {
    reference: order.id,
    orderId,
    customer,
    shipBy: order.shipBy,
    market: order.terms === "market",
    units: orderedInAll(order.lines),
    spare: order.lines.reduce((sum, { spare = 0 }) => sum + spare, 0),
    readyOn: outcome.readyOn,
    daysLate: outcome.daysLate,
    // Pieces for losses may be missing too; nobody waits for those.
    unitsShort: Math.min(outcome.unitsShort, orderedInAll(order.lines)),
    fate: fateOf(order, outcome, sources),
    sources,
  };
}

/** Tight: ready on the last day that is still on time. Pieces from the shelf are never tight. */
function fateOf(
  { shipBy }: Order,
  { readyOn, daysLate, unitsShort }: OrderOutcome,
  sources: readonly SourceFigures[],
): OrderFigures["fate"] {
  if (unitsShort > 0) return "short";
  if (daysLate > 0) return "late";
  return readyOn === shipBy && sources.some(({ from }) => from !== "shelf") ? "tight" : "safe";
}

function sourcesOf(
  order: Order,
  { planCase, plan }: KeptPlan,
  names: PlanNames,
  batches: readonly Batch[],
): readonly SourceFigures[] {
  const horizon = horizonOf(planCase);
  const dateOf = (session: number | null) =>
    session === null ? null : (planCase.sessions[session]?.date ?? null);
  return plan.supplies
    .filter((supply) => supply.order === order.id && supply.units > 0)
    .map((supply): SourceFigures => {
      const { units, from } = supply;
      const product = names.product(supply.product);
      if (from === "stock") return { product, units, from: "shelf", pressedOn: null, packedOn: null };
      const batch = batches.find((candidate) => candidate.isServedBy(supply));
      const packedOn = batch === undefined ? null : dateOf(batch.milestones(horizon).pack);
      return { product, units, from, pressedOn: dateOf(batch?.session ?? null), packedOn };
    })
    .sort(
      (one, other) =>
        compareText(one.packedOn ?? "", other.packedOn ?? "") || compareText(one.product, other.product),
    );
}

function compareText(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
