import type { Change } from "../../server/plans/whatChanged.ts";
import type { Endangered } from "../../server/week/endangered.ts";
import { shortDayWords } from "../format/dates.ts";
import { pieces, spelled } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { fateWords } from "../orders/planEffect.ts";

/** What put a promise in danger. */
export interface WhatHappened {
  readonly change: Change;
  /** What the changed thing is called. */
  readonly name: string;
  /** Who wrote it down, and when; null where the history has no entry of its own for it. */
  readonly entry: { readonly at: Date; readonly person: string | null; readonly what: string } | null;
  readonly subjectId: number | null;
}

/** A promise in danger, as the page tells it. */
export interface EndangeredOrder extends Omit<Endangered, "because"> {
  readonly orderId: number | null;
  readonly customer: string;
  readonly because: WhatHappened | null;
}

/** What is known of the promises of the followed plan, or why nothing is. */
export type Watched =
  | { readonly kind: "known"; readonly endangered: readonly EndangeredOrder[] }
  | { readonly kind: "no-plan" }
  /** The plan was kept in a form that this release does not read. */
  | { readonly kind: "unreadable" }
  /** The planner had no time, or there is nothing left to plan. */
  | { readonly kind: "unknown" };

/** The answer, without the orders themselves. */
export function watchedHeadline(watched: Watched): string {
  switch (watched.kind) {
    case "known": {
      const count = watched.endangered.length;
      if (count === 0) return "Every promise of the plan can still be kept.";
      return sentence(`${spelled(count, "promise")} ${count === 1 ? "is" : "are"} in danger`);
    }
    case "no-plan":
      return "No plan is followed, so there is no promise to hold anything against.";
    case "unreadable":
      return "The plan that is followed can't be read back, so whether its promises hold can't be told. Plan again and accept the new plan.";
    case "unknown":
      return "Whether the plan's promises still hold could not be found out now.";
  }
}

/** "promised in time, now 3 days late". */
export function endangeredWords({ promised, now }: EndangeredOrder): string {
  return `promised ${fateWords(promised)}, now ${fateWords(now)}`;
}

/** What changed, as the second half of "because ...". */
export function changeWords({ change, name }: WhatHappened): string {
  switch (change.kind) {
    case "order-new":
      return `${name} was taken after the plan`;
    case "order-gone":
      return `${name} was called off`;
    case "order-changed":
      return `${name} was changed`;
    case "more-ordered":
      return `${pieces(change.units)} more were ordered on ${name}`;
    case "supply-changed":
      return `there are ${pieces(Math.abs(change.units))} of ${name} ${change.units < 0 ? "fewer" : "more"} than the plan counted on`;
    case "session-gone":
      return `there is no session on ${shortDayWords(change.date)} any more`;
    case "session-new":
      return `there is a session more on ${shortDayWords(change.date)}`;
    case "session-changed":
      return `the session on ${shortDayWords(change.date)} is another: fewer hands, or damp`;
    case "shape-changed":
      return `the numbers of ${name} were changed: its mold sets or its times`;
    case "losses-changed":
      return `other losses of ${name} are expected`;
    case "workshop-changed":
      return "the workshop's numbers were changed: trays, mixers or bowls";
  }
}

/** The place where it can be settled. `owner`: helpers are led only where they may go. */
export function placeOf({ change, subjectId }: WhatHappened, owner: boolean): string | null {
  if (change.kind === "supply-changed") return subjectId === null ? "/shelf" : `/shelf/${subjectId}`;
  if (!owner) return null;
  switch (change.kind) {
    case "order-new":
    case "order-gone":
    case "order-changed":
    case "more-ordered":
      return subjectId === null ? "/orders" : `/orders/${subjectId}`;
    case "shape-changed":
      return subjectId === null ? "/setup/shapes" : `/setup/shapes/${subjectId}`;
    case "losses-changed":
      return "/setup/learned";
    case "workshop-changed":
      return "/setup/workshop";
    default:
      return "/setup/sessions";
  }
}
