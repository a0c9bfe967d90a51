import type { Kept } from "../../server/delivery/promiseKept.ts";
import { shareWords } from "../format/money.ts";
import { wholeWords } from "../format/quantities.ts";

/** How a promise stands, in words. */
export function verdictWords(verdict: "on-time" | "late" | "not-due" | "called-off"): string {
  switch (verdict) {
    case "on-time":
      return "all of it left on time";
    case "late":
      return "late or short";
    case "not-due":
      return "not due yet";
    case "called-off":
      return "cancelled: it does not count";
  }
}

/** "12 of 14", with the share rounded down, so that "100 %" is all of them. */
export function rateWords({ kept, of }: Kept): string {
  if (of === 0) return "none due";
  const tenths = Math.floor((kept * 1000) / of);
  return `${wholeWords(kept)} of ${wholeWords(of)} (${shareWords(tenths * 10)})`;
}

/** What the rate counts; the same words stand on the page and in the file's name for it. */
export const rateRule = [
  "An order is on time when all its pieces left the workshop by the ship-by date it was promised for last.",
  "A date that was moved after it had gone by does not count: the one before it does.",
  "Orders count in the month of that date. One that is still here when the date has gone by is late; one whose date is still to come counts when all of it has left.",
  "Cancelled orders and market crates do not count. Shares are rounded down.",
] as const;
