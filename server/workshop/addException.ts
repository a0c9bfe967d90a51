import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { calendarExceptions } from "../../db/schema/workshop.ts";
import { dayAfter } from "../../views/format/dates.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import {
  type FullDay,
  fullDay,
  holdCalendar,
  type Overlap,
  overlapInWeek,
  overlapOnDate,
  weekdayOf,
} from "./calendarClashes.ts";
import type { NewException } from "./forms.ts";

export type ExceptionRefusal =
  | Overlap
  | FullDay
  /** Only today and what is still to come can be made different. */
  | { readonly reason: "past"; readonly today: string }
  /** The date is off, or damp, already. */
  | { readonly reason: "said-already"; readonly onDate: string };

/** Makes one date differ from the ordinary week: a day off, an extra session, or damp air. */
export async function addException(
  transaction: Transaction,
  actor: Actor,
  exception: NewException,
): Promise<Result<{ readonly exceptionId: number }, ExceptionRefusal>> {
  const today = await holdCalendar(transaction, actor.at);
  if (exception.onDate < today) return refuse({ reason: "past", today });
  const inTheWay = await findInTheWay(transaction, exception);
  if (inTheWay) return refuse(inTheWay);
  const [row] = await transaction
    .insert(calendarExceptions)
    .values(exception)
    .returning({ id: calendarExceptions.id });
  if (!row) throw new Error("The new exception's row did not come back");
  await recordChange(transaction, actor, {
    subject: "calendar exception",
    subjectId: row.id,
    what: "added",
    after: exception,
  });
  return ok({ exceptionId: row.id });
}

/** The same day off or damp air from one date to another, both included: every date, or none when one is refused. */
export async function addSpell(
  transaction: Transaction,
  actor: Actor,
  { lastDate, ...first }: Exclude<NewException, { kind: "extra" }> & { readonly lastDate: string | null },
): Promise<Result<null, ExceptionRefusal>> {
  const last = lastDate ?? first.onDate;
  for (let onDate = first.onDate; onDate <= last; onDate = dayAfter(onDate)) {
    const added = await addException(transaction, actor, { ...first, onDate });
    if (!added.ok) return added;
  }
  return ok(null);
}

async function findInTheWay(
  transaction: Transaction,
  exception: NewException,
): Promise<ExceptionRefusal | null> {
  const { kind, onDate } = exception;
  if (kind !== "extra") {
    return (await isSaid(transaction, kind, onDate)) ? { reason: "said-already", onDate } : null;
  }
  const withExtra =
    (await fullDay(transaction, { onDate })) ?? (await overlapOnDate(transaction, onDate, exception));
  if (withExtra || (await isSaid(transaction, "day-off", onDate))) return withExtra;
  return await overlapInWeek(transaction, weekdayOf(onDate), exception);
}

async function isSaid(transaction: Transaction, kind: "day-off" | "damp", onDate: string): Promise<boolean> {
  const [same] = await transaction
    .select({ id: calendarExceptions.id })
    .from(calendarExceptions)
    .where(and(eq(calendarExceptions.kind, kind), eq(calendarExceptions.onDate, onDate)));
  return same !== undefined;
}
