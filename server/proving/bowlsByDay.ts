import type { Instance } from "../planning/search/instance.ts";
import { endless, type LinearModel, type Term } from "./linearModel.ts";
import type { FromRun } from "./orderSide.ts";
import type { RunColumns, WorkshopSide } from "./workshopSide.ts";

/**
 * What is served from the runs of a blend by a day weighs no more than the bowls mixed for it so far hold. Follows from the
 * rows of the single runs, but says with one whole number what those say with many: from it the solver learns that mix
 * for one and a third bowls takes two.
 */
export function addBowlsByDay(
  instance: Instance,
  model: LinearModel,
  workshop: WorkshopSide,
  takings: readonly FromRun[],
): void {
  const { blends, blendOf, lineProduct } = instance;
  for (let blend = 0; blend < blends; blend++) {
    const ofBlend = takings.filter(({ line }) => blendOf[lineProduct[line]!] === blend);
    addBlend(instance, model, ofBlend, (session) => workshop.run(blend, session));
  }
}

function addBlend(
  { lineProduct, lineUnits, weightOf, bowlGrams }: Instance,
  model: LinearModel,
  takings: readonly FromRun[],
  runIn: (session: number) => RunColumns,
): void {
  /** By line: the column of the units served so far. */
  const served = new Map<number, number>();
  const mixed = new Set<RunColumns>();
  let bowls: number | undefined;
  for (const day of [...new Set(takings.map((taking) => taking.day))].sort((one, other) => one - other)) {
    const here = takings.filter((taking) => taking.day === day);
    for (const line of new Set(here.map((taking) => taking.line))) {
      const units = here.filter((taking) => taking.line === line).map((taking) => taking.units);
      served.set(line, sumSoFar(model, model.amount(lineUnits[line]!), served.get(line), units));
    }
    const added = [...new Set(here.map(({ session }) => runIn(session)))].filter((run) => !mixed.has(run));
    for (const run of added) mixed.add(run);
    const most = [...mixed].reduce((sum, { mostBowls }) => sum + mostBowls, 0);
    const more = added.map((run) => run.bowls);
    bowls = sumSoFar(model, model.decision(most), bowls, more);
    const mix = [...served].map(([line, units]): Term => [weightOf[lineProduct[line]!]! / bowlGrams, units]);
    model.row(-endless, [...mix, [-1, bowls]], 0);
  }
}

/** Makes a column what another was before, where there was one, and what is added to it. */
function sumSoFar(
  model: LinearModel,
  sum: number,
  before: number | undefined,
  added: readonly number[],
): number {
  const parts = before === undefined ? added : [before, ...added];
  model.row(0, [...parts.map((column): Term => [1, column]), [-1, sum]], 0);
  return sum;
}
