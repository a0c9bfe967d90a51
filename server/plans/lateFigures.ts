import type { HeldByFigures, LateFigures } from "../../views/plans/planFigures.ts";
import type { PlanCase } from "../planning/case.ts";
import type { LateReason } from "../planning/explainPlan.ts";
import type { PlanNames } from "./queries.ts";

/** Why orders are late, in the names and dates of the workshop; the worst first. */
export function lateFigures(
  planCase: PlanCase,
  reasons: readonly LateReason[],
  names: PlanNames,
): readonly LateFigures[] {
  const orders = new Map(planCase.orders.map((order) => [order.id, order]));
  return reasons
    .flatMap((reason): LateFigures[] => {
      const { outcome, waitsFor, alone } = reason;
      const order = orders.get(outcome.id);
      if (order === undefined) return [];
      return [
        {
          reference: outcome.id,
          ...names.order(outcome.id),
          market: order.terms === "market",
          shipBy: order.shipBy,
          readyOn: outcome.readyOn,
          daysLate: outcome.daysLate,
          unitsShort: outcome.unitsShort,
          waitsFor: { product: names.product(waitsFor.product), units: waitsFor.units },
          heldBy: heldByFigures(planCase, reason, names),
          alone: { readyOn: alone.readyOn, isProven: alone.proven },
          unavoidableDays: reason.unavoidableDays,
        },
      ];
    })
    .sort(
      (one, other) =>
        Math.sign(other.unitsShort) - Math.sign(one.unitsShort) || other.daysLate - one.daysLate,
    );
}

function heldByFigures(
  planCase: PlanCase,
  { heldBy, outcome }: LateReason,
  names: PlanNames,
): HeldByFigures | null {
  if (heldBy === null) return null;
  const { resource } = heldBy;
  const dates = heldBy.sessions.map((session) => planCase.sessions[session]?.date ?? "");
  return {
    kind: resource.resource,
    shape: resource.resource === "moldSets" ? names.shape(resource.shape) : "",
    from: dates[0] ?? "",
    to: dates.at(-1) ?? "",
    others: heldBy.orders.filter((order) => order !== outcome.id),
    alreadyDrying: heldBy.alreadyDrying,
  };
}
