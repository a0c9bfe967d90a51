import { planCase as findPlan } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { CallOff } from "../../server/plans/callOff.ts";
import {
  askHoldUps,
  giveReasons,
  type SearchAnswer,
  type SearchTask,
} from "../../server/plans/planWorker.ts";

export { askHoldUps, giveReasons };

/** Moves of a search that counts instead of looking at the clock: the same plan for the same seed, always. */
export const MOVES = 3;

/** A planner's thread that does what the name of the case says. */
export function searchSeed({ planCase, seed, callOff }: SearchTask): SearchAnswer {
  const counted = () => findPlan(planCase, { seed, stop: afterIterations(MOVES), prove: false });
  const answer = { isBest: false, iterationsASecond: 1 };
  const stop = new CallOff(callOff).watching({ progress: () => 0 });
  switch (planCase.name) {
    // The first search proves its plan best; the others never come to an end.
    case "first proves":
      if (seed === 1) return { ...answer, plan: counted(), isBest: true };
      for (;;) stop.progress(0);
    // Asks whether it should go on at every move, and always should.
    case "endless":
      for (;;) stop.progress(0);
    // In the middle of a long step: asks nobody.
    case "deaf":
      for (;;);
    default:
      return { ...answer, plan: counted() };
  }
}
