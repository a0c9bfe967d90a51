import { dayWords } from "../format/dates.ts";
import { counted, pieces, wholeWords } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import type { HeldByFigures, LateFigures } from "./planFigures.ts";

/** Orders named one by one where many take the same room. */
const MOST_NAMED = 4;

/** Why an order is late: what it waits for, who has the room it would need, and what it could be at best. */
export function lateWords(late: LateFigures): readonly string[] {
  return [waitsWords(late), heldWords(late.heldBy), aloneWords(late)];
}

function waitsWords({ waitsFor, unitsShort, market, readyOn, daysLate }: LateFigures): string {
  const what = `${wholeWords(waitsFor.units)} × ${waitsFor.product}`;
  if (unitsShort > 0) {
    const lacking = `${pieces(unitsShort)} find no place ${market ? "before the market" : "within the days planned"}`;
    return unitsShort === waitsFor.units ? `${what} find no place.` : `${lacking}, above all ${what}.`;
  }
  const when = readyOn === null ? "" : ` that are packed on ${dayWords(readyOn)}`;
  return `It waits for ${what}${when}, ${counted(daysLate, "day")} late.`;
}

function heldWords(heldBy: HeldByFigures | null): string {
  if (heldBy === null) return "Where they would have to be made there is room for a piece, but not for all.";
  const { from, to, others, alreadyDrying } = heldBy;
  const named =
    others.length > MOST_NAMED
      ? [...others.slice(0, MOST_NAMED - 1), `${others.length - MOST_NAMED + 1} more orders`]
      : others;
  const takers = [...named, ...(alreadyDrying ? ["what was drying already"] : [])];
  const when = from === to ? `on ${dayWords(from)}` : `between ${dayWords(from)} and ${dayWords(to)}`;
  const by = takers.length === 0 ? "by the order itself" : `by ${listed(takers)}`;
  return `${fullWords(heldBy)} ${when}, ${by}.`;
}

function fullWords({ kind, shape }: HeldByFigures): string {
  switch (kind) {
    case "moldSets":
      return `The ${shape} molds are all taken`;
    case "trays":
      return "The trays are all taken";
    case "handMinutes":
      return "The hands are busy to the last minute";
    case "mixers":
      return "The mixers are busy all the time";
  }
}

/** Lateness that no plan could avoid is told apart from lateness that comes from sharing the workshop. */
function aloneWords({ alone, shipBy, daysLate, unavoidableDays, unitsShort }: LateFigures): string {
  const { readyOn, isProven } = alone;
  if (readyOn === null) {
    return isProven
      ? "Even alone in the workshop it could not be served in full: late whatever you do."
      : "Even for this order alone in the workshop no plan was found that serves it in full.";
  }
  const would = `Alone in the workshop it would be ready on ${dayWords(readyOn)}`;
  if (readyOn <= shipBy) return `${would}, in time: what it lacks comes from sharing.`;
  const found = isProven ? "" : ", as far as was found";
  if (unitsShort > 0 || unavoidableDays >= daysLate) return `${would}${found}: late whatever you do.`;
  return `${would}${found}: ${wholeWords(unavoidableDays)} of its ${counted(daysLate, "day")} can't be helped, the rest comes from sharing.`;
}

/** "most of them wait for Ball 60 molds": what holds up where nobody asked what more of it would save; may be empty. */
export function mostHeldWords(late: readonly LateFigures[]): string {
  const counts = new Map<string, number>();
  for (const { heldBy } of late) {
    if (heldBy === null) continue;
    const name = resourceName(heldBy);
    counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  const [most] = [...counts].sort(([, one], [, other]) => other - one);
  if (most === undefined) return "";
  const [name, count] = most;
  if (late.length === 1) return `it waits for ${name}`;
  return count === late.length ? `all of them wait for ${name}` : `most of the waiting is for ${name}`;
}

function resourceName({ kind, shape }: HeldByFigures): string {
  return { moldSets: `${shape} molds`, trays: "trays", handMinutes: "hands", mixers: "the mixers" }[kind];
}
