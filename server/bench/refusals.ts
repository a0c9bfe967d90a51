import { clockWords, momentWords } from "../../views/format/dates.ts";
import { counted, pieces } from "../../views/format/quantities.ts";
import type { BowlStepName } from "./bowlSteps.ts";

/** Why a step at the bench is not done. */
export type BenchRefusal =
  | { readonly kind: "no-such-run" }
  | { readonly kind: "no-such-lot" }
  | { readonly kind: "not-in-accepted-plan" }
  | { readonly kind: "already-started"; readonly by: string | null; readonly at: Date }
  /** Some of it is pressed, or it was never started. */
  | { readonly kind: "not-to-be-put-back" }
  | { readonly kind: "newer-plan-counts-on-it" }
  /** Somebody has recorded this step already, or an earlier one is still open. */
  | { readonly kind: "lot-moved-on"; readonly code: string; readonly state: string }
  | { readonly kind: "not-due-yet"; readonly dueAt: Date }
  | { readonly kind: "more-lost-than-there"; readonly there: number }
  | { readonly kind: "packed-already" }
  /** It is not begun, or all of it is recorded. */
  | { readonly kind: "run-not-in-the-bowl" }
  | { readonly kind: "no-such-bowl"; readonly bowls: number }
  | { readonly kind: "bowl-moved-on"; readonly bowl: number; readonly last: BowlStepName | null }
  | { readonly kind: "bowl-out-of-turn"; readonly next: number }
  /** Its last turning is another one than the tap was made for; null: there is none. */
  | { readonly kind: "turned-otherwise"; readonly code: string; readonly at: Date | null };

export function benchRefusalWords(refusal: BenchRefusal, timeZone: string): string {
  switch (refusal.kind) {
    case "no-such-run":
      return "There is no such run.";
    case "no-such-lot":
      return "There is no such lot.";
    case "not-in-accepted-plan":
      return "This run is not in the plan the workshop follows now, so it was not started.";
    case "already-started":
      return `${refusal.by ?? "Somebody"} started this run at ${clockWords(refusal.at, timeZone)} already.`;
    case "not-to-be-put-back":
      return "Some of this run is pressed already, or it was not started: it can't go back to the plan.";
    case "newer-plan-counts-on-it":
      return "A newer plan already counts on this run. Record what was really pressed, even if it is nothing.";
    case "lot-moved-on":
      return `Lot ${refusal.code} is ${refusal.state} by now: somebody was here before. Nothing was changed.`;
    case "not-due-yet":
      return `It should wait until ${momentWords(refusal.dueAt, timeZone)}. If you have felt that it is dry, tick the box and send again.`;
    case "more-lost-than-there":
      return `No more can be lost than there is: ${pieces(refusal.there)}. Nothing was changed.`;
    case "packed-already":
      return "Some of this lot is packed already, so it can't go back to resting.";
    case "run-not-in-the-bowl":
      return "This run is not in the bowl now. Nothing was changed.";
    case "no-such-bowl":
      return `This run has ${counted(refusal.bowls, "bowl")}.`;
    case "bowl-moved-on":
      return `Bowl ${refusal.bowl} is ${bowlWords(refusal.last)} by now: somebody was here before. Nothing was changed.`;
    case "bowl-out-of-turn":
      return `Bowl ${refusal.next} comes first. Nothing was changed.`;
    case "turned-otherwise":
      return refusal.at === null
        ? `Lot ${refusal.code} is not turned yet.`
        : `Lot ${refusal.code} was turned last at ${clockWords(refusal.at, timeZone)}. Nothing was changed.`;
  }
}

function bowlWords(last: BowlStepName | null): string {
  switch (last) {
    case null:
      return "not begun";
    case "begun":
      return "being mixed";
    case "mixed":
      return "being pressed";
    case "pressed":
      return "pressed";
  }
}
