import { daysBetween } from "../../views/format/dates.ts";
import { type MinorUnits, minorUnits, sumOf } from "../money/minorUnits.ts";

/** How long after its due date something is still open, in days: the usual bands of thirty (common practice, no source). */
export const ages = ["not-due", "to-30", "to-60", "to-90", "over-90"] as const;
export type Age = (typeof ages)[number];

/** Calendar days since the due date; 0 up to it. */
export function daysOverdue(dueOn: string, today: string): number {
  return Math.max(0, daysBetween(dueOn, today));
}

export function ageOf(dueOn: string, today: string): Age {
  const days = daysOverdue(dueOn, today);
  if (days === 0) return "not-due";
  if (days <= 30) return "to-30";
  if (days <= 60) return "to-60";
  return days <= 90 ? "to-90" : "over-90";
}

interface Open {
  readonly dueOn: string;
  /** Below nothing: in the customer's favour. */
  readonly openMinor: MinorUnits;
}

export interface Standing {
  readonly byAge: Readonly<Record<Age, MinorUnits>>;
  readonly overdueMinor: MinorUnits;
  /** What the customer paid or was credited too much, as a positive amount. */
  readonly inFavourMinor: MinorUnits;
  /** What is left to pay: all that is open, less what is in the customer's favour; it may be below nothing. */
  readonly balanceMinor: MinorUnits;
}

/** What is open and overdue on a day, by age. */
export function standingOn(today: string, invoices: readonly Open[]): Standing {
  const owed = invoices.filter(({ openMinor }) => openMinor > 0);
  const of = (age: Age) =>
    sumOf(owed.filter(({ dueOn }) => ageOf(dueOn, today) === age).map(({ openMinor }) => openMinor));
  const late = owed.filter(({ dueOn }) => daysOverdue(dueOn, today) > 0);
  const inFavour = sumOf(invoices.filter(({ openMinor }) => openMinor < 0).map(({ openMinor }) => openMinor));
  return {
    byAge: {
      "not-due": of("not-due"),
      "to-30": of("to-30"),
      "to-60": of("to-60"),
      "to-90": of("to-90"),
      "over-90": of("over-90"),
    },
    overdueMinor: sumOf(late.map(({ openMinor }) => openMinor)),
    inFavourMinor: minorUnits(0 - inFavour),
    balanceMinor: sumOf(invoices.map(({ openMinor }) => openMinor)),
  };
}
