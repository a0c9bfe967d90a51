import { and, asc, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { calendarExceptions } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { holdCalendar, type Overlap, overlapInWeek, weekdayOf } from "./calendarClashes.ts";

/**
 * Makes a date ordinary again. A day off is kept while an extra session of its date stands in the hours of the
 * ordinary week, which would come back: the refusal names that ordinary session.
 */
export async function removeException(
  transaction: Transaction,
  actor: Actor,
  { exceptionId }: { readonly exceptionId: number },
): Promise<Result<null, "not-found" | Overlap>> {
  await holdCalendar(transaction, actor.at);
  const [before] = await transaction
    .select()
    .from(calendarExceptions)
    .where(eq(calendarExceptions.id, exceptionId));
  if (!before) return refuse("not-found");
  const overlap = before.kind === "day-off" ? await overlapOfReturningWeek(transaction, before.onDate) : null;
  if (overlap) return refuse(overlap);
  await transaction.delete(calendarExceptions).where(eq(calendarExceptions.id, exceptionId));
  await recordChange(transaction, actor, {
    subject: "calendar exception",
    subjectId: exceptionId,
    what: "removed",
    before,
  });
  return ok(null);
}

async function overlapOfReturningWeek(transaction: Transaction, onDate: string): Promise<Overlap | null> {
  const extras = await transaction
    .select()
    .from(calendarExceptions)
    .where(and(eq(calendarExceptions.kind, "extra"), eq(calendarExceptions.onDate, onDate)))
    .orderBy(asc(calendarExceptions.startsMinute));
  for (const { startsMinute, endsMinute } of extras) {
    if (startsMinute === null || endsMinute === null) continue;
    const overlap = await overlapInWeek(transaction, weekdayOf(onDate), { startsMinute, endsMinute });
    if (overlap) return overlap;
  }
  return null;
}
