import type { NoCase } from "../../server/plans/buildCase.ts";
import type { Obstacle } from "../../server/plans/findObstacle.ts";
import type { PlannerRefusal } from "../../server/plans/plannerPool.ts";
import type { Change } from "../../server/plans/whatChanged.ts";
import { dayWords } from "../format/dates.ts";
import { pieces } from "../format/quantities.ts";

/** Names for the codes that changes speak of. */
interface ChangedNames {
  product(code: string): string;
  shape(code: string): string;
}

/** Why a plan can't be accepted any more, a sentence each. */
export function objectionWords(obstacle: Obstacle, names: ChangedNames): readonly string[] {
  switch (obstacle.kind) {
    case "superseded":
      return ["A later plan took its place."];
    case "another-accepted":
      return [`Plan ${obstacle.planId} was accepted after this one was made.`];
    case "sessions-over":
      return obstacle.dates.map((date) => `It mixes in a session of ${dayWords(date)} that is over.`);
    case "changed":
      return obstacle.changes.map((change) => changeWords(change, names));
    case "nothing-to-plan":
      return [obstacleToPlanning(obstacle.why).words];
  }
}

function changeWords(change: Change, names: ChangedNames): string {
  switch (change.kind) {
    case "order-new":
      return `${change.order} has come in.`;
    case "order-gone":
      return `${change.order} was called off.`;
    case "order-changed":
      return `${change.order} has another date, other terms or another weight.`;
    case "more-ordered":
      return `${change.order} now asks for ${pieces(change.units)} more of ${names.product(change.product)}.`;
    case "supply-changed":
      return change.units > 0
        ? `There are ${pieces(change.units)} of ${names.product(change.product)} that it did not count on: made, found, or no longer ordered.`
        : `It counted on ${pieces(-change.units)} of ${names.product(change.product)} that are not there any more.`;
    case "session-gone":
      return `The session on ${dayWords(change.date)} is not there any more.`;
    case "session-new":
      return `${dayWords(change.date)} has a new session.`;
    case "session-changed":
      return `The session on ${dayWords(change.date)} has other hours, hands or drying.`;
    case "shape-changed":
      return `The molds, times or weights of ${names.shape(change.shape)} have changed.`;
    case "losses-changed":
      return `Other losses of ${names.product(change.product)} are expected.`;
    case "workshop-changed":
      return "The workshop's trays, mixers, bowls or minutes have changed.";
  }
}

/** What stands in the way of a plan, and where to settle it. */
interface PlanningObstacle {
  readonly headline: string;
  readonly words: string;
  readonly href?: string;
  readonly link?: string;
}

export function obstacleToPlanning(refusal: NoCase | PlannerRefusal): PlanningObstacle {
  switch (refusal.kind) {
    case "no-orders":
      return {
        headline: "There is nothing to plan: no order waits to be packed.",
        words: "A plan answers confirmed orders. Drafts are not planned.",
        href: "/orders",
        link: "To the orders",
      };
    case "no-sessions":
      return {
        headline: "There is nobody to do the work: no session comes within the days planned ahead.",
        words: "Say when you work, or look further ahead.",
        href: "/setup/sessions",
        link: "To the sessions",
      };
    case "over-midnight":
      return {
        headline: `The clock change around ${dayWords(refusal.date)} can't be planned across.`,
        words: "It carries a session over midnight. Give that day's sessions hours further from midnight.",
        href: "/setup/sessions",
        link: "To the sessions",
      };
    case "too-large":
      return {
        headline: "This is more than can be planned at once.",
        words: `In the planner's words: ${refusal.problems.slice(0, 5).join("; ")}.`,
      };
    case "planner-busy":
      return {
        headline: "Several plans are being made already.",
        words: "Wait a moment, then try again.",
      };
    case "planner-failed":
    case "planning-stopped":
      return {
        headline: "No plan was made: the planner stopped before it had one.",
        words: "Nothing was changed. Try again; should it happen again, the server's log says more.",
      };
  }
}
