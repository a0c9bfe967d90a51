import type { BandFigures, BoardFigures, StackFigures } from "../../views/plans/planFigures.ts";
import type { PlanCase, Shape } from "../planning/case.ts";
import { type Load, planLoads, type SessionLoads } from "../planning/loads.ts";
import { horizonOf } from "../planning/timing/horizon.ts";
import { type Batch, batchesOf } from "./batches.ts";
import { daysApart } from "./calendar.ts";
import type { KeptPlan } from "./keptPlan.ts";
import type { PlanNames } from "./queries.ts";

/** Columns shown even where nothing lies in them, so that an empty board still looks like one. */
const FEWEST_COLUMNS = 4;

/** Lays a plan on the drying board, up to the last session in which anything is in use. */
export function boardFigures(kept: KeptPlan, names: PlanNames): BoardFigures {
  const { planCase, plan } = kept;
  const loads = planLoads(planCase, plan);
  const batches = batchesOf(kept);
  const last = loads.findLastIndex(({ trays, handMinutes }) => inUse(trays) > 0 || inUse(handMinutes) > 0);
  const shown = loads.slice(0, Math.max(last + 1, FEWEST_COLUMNS));
  const blends = [...new Set(batches.map(({ blend }) => blend))];
  return {
    columns: shown.map((_, index) => columnOf(kept, index)),
    bands: [
      ...planCase.shapes.flatMap((shape, index) => moldBand(shape, index, shown, batches, names)),
      trayBand(planCase, shown, batches),
      handBand(planCase, shown, batches),
    ],
    blocks: batches.map(({ anchor, blend, product, units }) => ({
      anchor,
      blend,
      words: `${units} × ${names.product(product)}`,
    })),
    looks: blends.map((code) => ({ code, look: names.blend(code) })),
  };
}

function columnOf({ planCase, sessionInstants }: KeptPlan, index: number) {
  const date = planCase.sessions[index]?.date ?? "";
  const before = planCase.sessions[index - 1]?.date ?? date;
  return {
    date,
    startsAt: sessionInstants[index]?.startsAt ?? new Date(0),
    closedDaysBefore: Math.max(0, daysApart(before, date) - 1),
  };
}

/** None for a shape that holds no molds, or whose molds stay empty. */
function moldBand(
  shape: Shape,
  shapeIndex: number,
  shown: readonly SessionLoads[],
  batches: readonly Batch[],
  names: PlanNames,
): readonly BandFigures[] {
  if (shape.driesIn === "none") return [];
  const stacks = shown.map((loads) => {
    const inMolds = (loads.lots[shapeIndex] ?? []).filter(({ stage }) => stage === "in-mold");
    const amounts = batches.map((batch) =>
      inMolds.reduce((sum, lot) => sum + (batch.is(lot) ? lot.units : 0), 0),
    );
    return stackOf(loads.molds[shapeIndex], amounts);
  });
  if (stacks.every(({ used }) => used === 0)) return [];
  return [{ kind: "molds", shape: names.shape(shape.id), stacks }];
}

function trayBand(
  planCase: PlanCase,
  shown: readonly SessionLoads[],
  batches: readonly Batch[],
): BandFigures {
  const stacks = shown.map((loads) => {
    const lots = loads.lots.flat();
    return stackOf(
      loads.trays,
      batches.map((batch) => (lots.some((lot) => batch.is(lot)) ? batch.trays(planCase) : 0)),
    );
  });
  return { kind: "trays", shape: "", stacks };
}

/** Hand minutes by batch: each pays for its own pieces, and the first of a run for its bowls and the clean-down. */
function handBand(
  planCase: PlanCase,
  shown: readonly SessionLoads[],
  batches: readonly Batch[],
): BandFigures {
  const horizon = horizonOf(planCase);
  const stacks = shown.map((loads, session) => {
    const lots = loads.lots.flat();
    return stackOf(
      loads.handMinutes,
      batches.map((batch) => {
        const { turnMinutes, unmoldMinutes, packMinutes, formMinutes } = batch.shape;
        const { unmold, pack } = batch.milestones(horizon);
        const inMold = lots.some((lot) => batch.is(lot) && lot.stage === "in-mold");
        const minutes =
          (batch.session === session ? formMinutes : 0) +
          (inMold ? turnMinutes : 0) +
          (unmold === session && !batch.outOfMold ? unmoldMinutes : 0) +
          (pack === session ? packMinutes : 0);
        const ofRun = batch.session === session ? batch.runMinutes(planCase) : 0;
        return batch.units * minutes + ofRun;
      }),
    );
  });
  return { kind: "hands", shape: "", stacks };
}

function stackOf(load: Load | undefined, amounts: readonly number[]): StackFigures {
  return { used: load === undefined ? 0 : inUse(load), limit: load?.limit ?? 0, amounts };
}

function inUse({ byDrying, byPlan }: Load): number {
  return byDrying + byPlan;
}
