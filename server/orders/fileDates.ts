import { DateTime } from "luxon";
import { dateField } from "../http/formFields.ts";

/** How a file writes dates: as ISO 8601 alone, or also with the day or the month first. ISO 8601 is always read. */
export const dateHabits = ["iso", "day-first", "month-first"] as const;
export type DateHabit = (typeof dateHabits)[number];

/** "5.3.2027", "05/03/2027", "5-3-2027": twice the same mark, and all four digits of the year. */
const NUMBERS = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})$/;

const isoDate = dateField();

/**
 * The date a cell of a file means, as ISO 8601; null where it is none. Which of two numbers is the day is never
 * guessed: 31/12/2027 is no date where the month comes first.
 */
export function readFileDate(typed: string, habit: DateHabit): string | null {
  const numbers = NUMBERS.exec(typed);
  if (habit === "iso" || !numbers) return isoDate.safeParse(typed).data ?? null;
  const [, first, , second, year] = numbers.map(Number);
  const [day, month] = habit === "day-first" ? [first, second] : [second, first];
  const date = DateTime.fromObject({ year: year ?? 0, month: month ?? 0, day: day ?? 0 });
  return date.isValid ? (isoDate.safeParse(date.toISODate()).data ?? null) : null;
}

/** Whether a text would be a date if it were said what comes first in it. */
export function needsDateHabit(typed: string): boolean {
  return NUMBERS.test(typed);
}
