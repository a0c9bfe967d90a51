import type { ClockTrouble } from "../../server/bench/clockDay.ts";
import { clockWords } from "../format/dates.ts";
import { counted, minutesWords } from "../format/quantities.ts";

/** What a lot that is in none of the lists is called: it was moved on while the page was made. */
const GONE = "a lot";

/** One thing that does not fit, or could be better, in a sentence. */
export function troubleWords(
  { trouble, sessionStartsAt }: ClockTrouble,
  lots: ReadonlyMap<number, string>,
  timeZone: string,
): string {
  const session = `The session from ${clockWords(sessionStartsAt, timeZone)}`;
  switch (trouble.kind) {
    case "runs-over":
      return `${session} runs over: by this timetable it ends at ${clockWords(trouble.until, timeZone)}, ${minutesWords(trouble.minutes)} late.`;
    case "too-few-hand-minutes":
      return `${session} needs ${minutesWords(trouble.needed)} of hands for what is left, and has ${minutesWords(trouble.there)}.`;
    case "no-hands":
      return `${session} has no hand minutes, so nothing of its work stands in the timetable.`;
    case "no-mixer":
      return `${session} has bowls but the workshop has no mixer, so they stand in no timetable.`;
    case "turning-left-out":
      return `Lot ${lots.get(trouble.lotId) ?? GONE} should be turned at ${clockWords(trouble.dueAt, timeZone)}, but no hands are free for it.`;
    case "order-not-proven":
      return `${session} has ${counted(trouble.runs, "run")}: light to dark they stand, but so many are not put in the very best order for their scents.`;
  }
}
