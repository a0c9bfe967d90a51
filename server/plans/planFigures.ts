import type {
  BatchFigures,
  DryingFigures,
  FullestFigures,
  HoldUpFigures,
  PlanFigures,
  RunFigures,
  SessionFigures,
} from "../../views/plans/planFigures.ts";
import { moldPlaces, planLoads, type SessionLoads } from "../planning/loads.ts";
import type { ResourceReport } from "../planning/questions/whatHoldsUp.ts";
import { type Horizon, horizonOf } from "../planning/timing/horizon.ts";
import { type Batch, batchesOf, runsInOrder } from "./batches.ts";
import { boardFigures } from "./boardFigures.ts";
import type { KeptPlan } from "./keptPlan.ts";
import { orderFigures } from "./orderFigures.ts";
import type { PlanNames, PlanRow } from "./queries.ts";

/** Everything the page of a plan shows, from the plan as it was kept and the names things have now. */
export function planFigures(row: PlanRow, kept: KeptPlan, names: PlanNames): PlanFigures {
  const { planId, state, plannedAt, plannedBy, acceptedAt, acceptedBy } = row;
  const { planCase, plan } = kept;
  const loads = planLoads(planCase, plan);
  const batches = batchesOf(kept);
  const horizon = horizonOf(planCase);
  const board = boardFigures(kept, names);
  return {
    planId,
    state,
    plannedAt,
    plannedBy,
    acceptedAt,
    acceptedBy,
    cost: plan.cost,
    bound: plan.bound,
    handMinutes: plan.handMinutes,
    lastDate: planCase.sessions.at(-1)?.date ?? "",
    sessions: board.columns.map((_, index) =>
      sessionFigures(index, kept, names, batches, horizon, loads[index]),
    ),
    drying: batches
      .filter(({ session }) => session === null)
      .map(
        (batch): DryingFigures => ({
          ...batchFigures(batch, kept, names, horizon),
          look: names.blend(batch.blend),
        }),
      ),
    board,
    orders: orderFigures(kept, names),
    holdUps: holdUpFigures(kept, names),
    fullest: fullestMolds(kept, names, loads),
  };
}

function sessionFigures(
  index: number,
  kept: KeptPlan,
  names: PlanNames,
  batches: readonly Batch[],
  horizon: Horizon,
  loads: SessionLoads | undefined,
): SessionFigures {
  const session = kept.planCase.sessions[index];
  const instants = kept.sessionInstants[index];
  if (session === undefined || instants === undefined || loads === undefined) {
    throw new Error(`A kept plan has no session ${index}`);
  }
  const unitsWhere = (here: (batch: Batch) => boolean) =>
    batches.filter(here).reduce((sum, { units }) => sum + units, 0);
  const runs = runsInOrder(kept.planCase, kept.plan.runs).filter(({ run }) => run.session === index);
  return {
    ...instants,
    date: session.date,
    mixing: session.mixing,
    dryingFactor: session.dryingFactor,
    handMinutesUsed: loads.handMinutes.byDrying + loads.handMinutes.byPlan,
    handMinutes: session.handMinutes,
    unmolded: unitsWhere((batch) => !batch.outOfMold && batch.milestones(horizon).unmold === index),
    packed: unitsWhere((batch) => batch.milestones(horizon).pack === index),
    runs: runs.map(
      ({ run, index: runIndex }): RunFigures => ({
        look: names.blend(run.blend),
        bowls: run.bowls,
        batches: batches
          .filter((batch) => batch.run === runIndex)
          .map((batch) => batchFigures(batch, kept, names, horizon)),
      }),
    ),
  };
}

function batchFigures(batch: Batch, kept: KeptPlan, names: PlanNames, horizon: Horizon): BatchFigures {
  const { unmold, pack } = batch.milestones(horizon);
  const serves = kept.plan.supplies
    .filter((supply) => supply.units > 0 && batch.isServedBy(supply))
    .map(({ order, units }) => ({ order, customer: names.order(order).customer, units }));
  const { planCase, sessionInstants } = kept;
  return {
    anchor: batch.anchor,
    product: names.product(batch.product),
    units: batch.units,
    serves,
    leftOver: batch.units - serves.reduce((sum, { units }) => sum + units, 0),
    holdsMold: batch.shape.driesIn !== "none",
    unmoldedAt: unmold === null || batch.outOfMold ? null : (sessionInstants[unmold]?.startsAt ?? null),
    packedOn: pack === null ? null : (planCase.sessions[pack]?.date ?? null),
  };
}

/** A saving is measured against planning again with nothing added, so that luck is not counted. */
function holdUpFigures({ planCase, holdUps }: KeptPlan, names: PlanNames): HoldUpFigures {
  const figuresOf = (report: ResourceReport) => {
    const steps = report.resource === "handMinutes" ? 60 : 1;
    const from = report.oneMore.limit - steps;
    const saves = (cost: number) => Math.max(0, holdUps.cost - cost);
    return {
      kind: report.resource,
      shape: report.resource === "moldSets" ? names.shape(report.shape) : "",
      limit:
        report.resource === "handMinutes"
          ? Math.max(...planCase.sessions.map(({ handMinutes }) => handMinutes))
          : report.limit,
      meanLoad: report.meanLoad,
      peakLoad: report.peakLoad,
      oneMoreSaves: saves(report.oneMore.cost),
      enough:
        report.enough === null
          ? null
          : { more: (report.enough.limit - from) / steps, saves: saves(report.enough.cost) },
    };
  };
  const { bottleneck } = holdUps;
  const slowest = holdUps.resources.find(
    (report) =>
      report.resource === bottleneck?.resource &&
      (report.resource !== "moldSets" ||
        (bottleneck.resource === "moldSets" && report.shape === bottleneck.shape)),
  );
  return {
    resources: holdUps.resources.map(figuresOf),
    bottleneck: slowest === undefined ? null : figuresOf(slowest),
  };
}

function fullestMolds(
  { planCase }: KeptPlan,
  names: PlanNames,
  loads: readonly SessionLoads[],
): FullestFigures | null {
  for (const [session, { molds }] of loads.entries()) {
    const full = planCase.shapes.find((shape, index) => {
      const places = moldPlaces(shape);
      const load = molds[index];
      return load !== undefined && places > 0 && load.byDrying + load.byPlan >= places;
    });
    const date = planCase.sessions[session]?.date;
    if (full !== undefined && date !== undefined) return { shape: names.shape(full.id), date };
  }
  return null;
}
