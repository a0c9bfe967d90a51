import type { ProposedRun } from "../supplies/planShortages.ts";
import { runsInOrder } from "./batches.ts";
import type { KeptPlan } from "./keptPlan.ts";

const MILLIGRAMS_IN_A_GRAM = 1000;

/** The runs of a plan in the order they are mixed in, each with the mix its pieces take. */
export function proposedRuns({ planCase, plan }: KeptPlan): readonly ProposedRun[] {
  const gramsOf = (product: string) => {
    const shape = planCase.products.find(({ id }) => id === product)?.shape;
    return planCase.shapes.find(({ id }) => id === shape)?.grams ?? 0;
  };
  return runsInOrder(planCase, plan.runs).map(({ run }) => ({
    on: planCase.sessions[run.session]?.date ?? "",
    blend: run.blend,
    mixMilligrams: Math.round(
      run.pieces.reduce((sum, { product, units }) => sum + units * gramsOf(product), 0) *
        MILLIGRAMS_IN_A_GRAM,
    ),
  }));
}
