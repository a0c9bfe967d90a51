import type { Change } from "../../server/plans/whatChanged.ts";
import type { Endangered } from "../../server/week/endangered.ts";
import { shortDayWords } from "../format/dates.ts";
import { counted, pieces } from "../format/quantities.ts";

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
    case "workshop-changed":
      return "/setup/workshop";
    default:
      return "/setup/sessions";
  }
}

function fateWords({ daysLate, unitsShort }: EndangeredOrder["now"]): string {
  if (unitsShort > 0) return `${pieces(unitsShort)} short`;
  return daysLate > 0 ? `${counted(daysLate, "day")} late` : "in time";
}
