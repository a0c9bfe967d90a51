import type { Stop } from "../../server/holds/stops.ts";
import { momentWords } from "../format/dates.ts";

/** "Lot K7Q is on hold: smells burnt." */
export function stoppedWords(code: string, { kind, reason }: Pick<Stop, "kind" | "reason">): string {
  return `Lot ${code} is ${stopMark(kind)}: ${withoutStop(reason)}.`;
}

/** The state in a word or two. */
export function stopMark(_kind: Stop["kind"]): string {
  return "on hold";
}

/** "smells burnt, said Fig on Mon 1 Mar 12:00" */
export function stopReasonWords({ reason, since, person }: Stop, timeZone: string): string {
  const when = momentWords(since, timeZone);
  return `${withoutStop(reason)}; ${person === null ? "" : `${person}, `}${when}`;
}

/** What people write may end with a full stop or not; ours is set once. */
function withoutStop(reason: string): string {
  return reason.replace(/[.\s]+$/, "");
}
