import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { weekSessions } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { holdCalendar } from "./calendarClashes.ts";

/** Takes a session out of the ordinary week. Runs of an accepted plan stay where they are until the next plan. */
export async function removeWeekSession(
  transaction: Transaction,
  actor: Actor,
  { weekSessionId }: { readonly weekSessionId: number },
): Promise<Result<null, "not-found">> {
  await holdCalendar(transaction, actor.at);
  const [before] = await transaction
    .delete(weekSessions)
    .where(eq(weekSessions.id, weekSessionId))
    .returning();
  if (!before) return refuse("not-found");
  await recordChange(transaction, actor, {
    subject: "week session",
    subjectId: weekSessionId,
    what: "removed",
    before,
  });
  return ok(null);
}
