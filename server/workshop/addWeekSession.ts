import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { weekSessions } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import {
  type FullDay,
  fullDay,
  holdCalendar,
  type Overlap,
  overlapInWeek,
  overlapOnComingDates,
} from "./calendarClashes.ts";
import type { NewWeekSession, NewWeekSessions } from "./forms.ts";

/** Adds a session to the ordinary week, unless it would overlap another or an extra one on a coming date. */
export async function addWeekSession(
  transaction: Transaction,
  actor: Actor,
  session: NewWeekSession,
): Promise<Result<{ readonly weekSessionId: number }, Overlap | FullDay>> {
  const today = await holdCalendar(transaction, actor.at);
  const inTheWay =
    (await fullDay(transaction, session)) ??
    (await overlapInWeek(transaction, session.weekday, session)) ??
    (await overlapOnComingDates(transaction, session.weekday, session, today));
  if (inTheWay) return refuse(inTheWay);
  const [row] = await transaction.insert(weekSessions).values(session).returning({ id: weekSessions.id });
  if (!row) throw new Error("The new session's row did not come back");
  await recordChange(transaction, actor, {
    subject: "week session",
    subjectId: row.id,
    what: "added",
    after: session,
  });
  return ok({ weekSessionId: row.id });
}

/** The same hours on several weekdays: all of them, or none when one of them overlaps. */
export async function addWeekSessions(
  transaction: Transaction,
  actor: Actor,
  { weekdays, ...times }: NewWeekSessions,
): Promise<Result<null, Overlap | FullDay>> {
  for (const weekday of weekdays) {
    const added = await addWeekSession(transaction, actor, { ...times, weekday });
    if (!added.ok) return added;
  }
  return ok(null);
}
