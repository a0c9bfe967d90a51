import type { ColumnFigures } from "./planFigures.ts";

/** Where the columns of the board stand, in pixels. */
export interface ColumnPlaces {
  /** Left edges, one a column. */
  readonly lefts: readonly number[];
  /** Closed days: thin strips between columns. */
  readonly closed: readonly { readonly left: number; readonly width: number }[];
  /** First and last column of each date. */
  readonly days: readonly { readonly date: string; readonly left: number; readonly right: number }[];
  readonly width: number;
}

export const COLUMN = 48;
const BETWEEN_SESSIONS = 2;
const BETWEEN_DAYS = 10;
const CLOSED_DAY = 7;
/** A long holiday is no wider than a week. */
const MOST_CLOSED_DAYS = 7;
const EDGE = 4;

export function columnPlaces(columns: readonly ColumnFigures[]): ColumnPlaces {
  const lefts: number[] = [];
  const closed: { left: number; width: number }[] = [];
  const days: { date: string; left: number; right: number }[] = [];
  let right = EDGE;
  for (const { date, closedDaysBefore } of columns) {
    const day = days.at(-1);
    if (day?.date === date) right += BETWEEN_SESSIONS;
    else if (day !== undefined) {
      const strips = Math.min(closedDaysBefore, MOST_CLOSED_DAYS);
      for (let strip = 0; strip < strips; strip += 1) {
        closed.push({ left: right + BETWEEN_DAYS + strip * CLOSED_DAY, width: CLOSED_DAY - 2 });
      }
      right += BETWEEN_DAYS + (strips === 0 ? 0 : strips * CLOSED_DAY + BETWEEN_DAYS);
    }
    lefts.push(right);
    right += COLUMN;
    if (day?.date === date) day.right = right;
    else days.push({ date, left: right - COLUMN, right });
  }
  return { lefts, closed, days, width: right + EDGE };
}
