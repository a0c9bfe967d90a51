import { dayAfter, daysBetween, shortDayWords } from "../format/dates.ts";
import { counted } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";

/** How a promised day lies to today, where that presses: "today", "tomorrow", "2 days late"; null further ahead. */
export function pressingWords(shipBy: string, today: string): string | null {
  if (shipBy < today) return lateWords(shipBy, today);
  if (shipBy === today) return "today";
  return shipBy === dayAfter(today) ? "tomorrow" : null;
}

/** "1 day late" for something that left, or still stands here, after the day it was promised for. */
export function lateWords(shipBy: string, leftOn: string): string {
  return `${counted(daysBetween(shipBy, leftOn), "day")} late`;
}

/** "W-104 leaves today", "W-104 should have left on Fri 26 Feb": the most pressing one in a sentence. */
export function leavesWords(references: readonly string[], shipBy: string, today: string): string {
  const many = references.length > 1;
  const who = namesWords(references);
  if (shipBy < today) return `${who} should have left on ${shortDayWords(shipBy)}`;
  return `${who} ${many ? "leave" : "leaves"} ${pressingWords(shipBy, today) ?? `on ${shortDayWords(shipBy)}`}`;
}

/** "W-104", "W-104 and W-107", "W-104, W-107 and 3 more". */
function namesWords(names: readonly string[]): string {
  if (names.length > 3) return `${names.slice(0, 2).join(", ")} and ${names.length - 2} more`;
  return listed(names);
}
