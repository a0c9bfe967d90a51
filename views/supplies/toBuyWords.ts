import type { Purpose } from "../../server/supplies/demand.ts";
import type { LineToBuy, ToBuy } from "../../server/supplies/toBuy.ts";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { counted } from "../format/quantities.ts";

/** "Order 5 supplies today; 3 more by Thursday 5 March." */
export function toBuySentence({ lists }: ToBuy, today: string): string {
  const lines = lists.flatMap((list) => list.lines);
  if (lines.length === 0) return "Nothing has to be bought: what is there and on its way is enough.";
  const tooLate = lines.filter((line) => line.tooLate);
  const days = lines.flatMap(({ orderBy }) => orderBy ?? []).toSorted();
  const now = days.filter((day) => day <= today).length;
  const next = days.find((day) => day > today);
  const late =
    tooLate.length === 0
      ? ""
      : `; ${tooLate.length} ${tooLate.length === 1 ? "comes" : "come"} too late even so`;
  if (now > 0) return `Order ${counted(now, "supply", "supplies")} today${late}.`;
  if (next === undefined)
    return `${counted(lines.length, "supply", "supplies")} to buy, and nobody known who sells them.`;
  return `Order by ${dayWords(next)}: ${counted(lines.length, "supply", "supplies")} in all${late}.`;
}

/** "today", "Thu 5 Mar", or "at once": the day has gone by. */
export function orderByWords({ orderBy }: LineToBuy, today: string): string {
  if (orderBy === null) return "nobody sells it yet";
  if (orderBy < today) return `at once: it was ${shortDayWords(orderBy)}`;
  return orderBy === today ? "today" : shortDayWords(orderBy);
}

/** What needs it first. */
export function purposeWords(purpose: Purpose | null): string {
  if (purpose === null) return "to have what should always be there";
  switch (purpose.kind) {
    case "run":
      return `for the run of ${purpose.blend}`;
    case "unplanned":
      return `for ${purpose.blend} that no plan makes yet`;
    case "packing":
      return `to pack ${purpose.order}`;
  }
}
