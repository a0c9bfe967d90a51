import type { StoppedPackaging } from "../../server/holds/packagingStops.ts";
import type { Stop } from "../../server/holds/stops.ts";
import { momentWords } from "../format/dates.ts";

/** "Lot K7Q is on hold: smells burnt." or "Lot K7Q is recalled with SABCD in it: metal found." */
export function stoppedWords(
  code: string,
  { kind, reason, supplyLotCode }: Pick<Stop, "kind" | "reason" | "supplyLotCode">,
): string {
  const within = supplyLotCode === null ? "" : ` with ${supplyLotCode} in it`;
  return `Lot ${code} is ${stopMark(kind)}${within}: ${withoutStop(reason)}.`;
}

/** "Cedar ball is packed in SABCD, Kraft carton, which is recalled: the print rubs off." */
export function stoppedPackagingWords({ product, code, supply, reason }: StoppedPackaging): string {
  return `${product} is packed in ${code}, ${supply}, which is recalled: ${withoutStop(reason)}.`;
}

/** The state in a word or two. */
export function stopMark(kind: Stop["kind"]): string {
  return kind === "held" ? "on hold" : "recalled";
}

/** "smells burnt, said Fig on Mon 1 Mar 12:00" */
export function stopReasonWords({ reason, since, person, supplyLotCode }: Stop, timeZone: string): string {
  const when = momentWords(since, timeZone);
  const within = supplyLotCode === null ? "" : `${supplyLotCode} in it: `;
  return `${within}${withoutStop(reason)}; ${person === null ? "" : `${person}, `}${when}`;
}

/** What people write may end with a full stop or not; ours is set once. */
function withoutStop(reason: string): string {
  return reason.replace(/[.\s]+$/, "");
}
