import { isDeepStrictEqual } from "node:util";
import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { weekSessions } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { holdCalendar, type Overlap, overlapInWeek, overlapOnComingDates } from "./calendarClashes.ts";
import type { SessionTimes } from "./forms.ts";

/** Gives a session of the ordinary week other hours or hands; it stays on its weekday. */
export async function changeWeekSession(
  transaction: Transaction,
  actor: Actor,
  { weekSessionId, ...after }: SessionTimes & { readonly weekSessionId: number },
): Promise<Result<null, "not-found" | Overlap>> {
  const today = await holdCalendar(transaction, actor.at);
  const [row] = await transaction.select().from(weekSessions).where(eq(weekSessions.id, weekSessionId));
  if (!row) return refuse("not-found");
  const { id: _, ...before } = row;
  if (isDeepStrictEqual(before, { ...before, ...after })) return ok(null);
  const overlap =
    (await overlapInWeek(transaction, row.weekday, after, { except: weekSessionId })) ??
    (await overlapOnComingDates(transaction, row.weekday, after, today));
  if (overlap) return refuse(overlap);
  await transaction.update(weekSessions).set(after).where(eq(weekSessions.id, weekSessionId));
  await recordChange(transaction, actor, {
    subject: "week session",
    subjectId: weekSessionId,
    what: "changed",
    before,
    after,
  });
  return ok(null);
}
