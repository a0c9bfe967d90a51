import { and, asc, eq, gt } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { changes } from "../../db/schema/changes.ts";
import type { plans } from "../../db/schema/plans.ts";
import type { Question } from "./askQuestion.ts";
import type { NoCase } from "./buildCase.ts";
import { changesSince } from "./changesSince.ts";
import { type KeptPlan, sessionAt } from "./keptPlan.ts";
import type { Change } from "./whatChanged.ts";

/** Why a plan can't be followed any more. */
export type Obstacle =
  /** It was followed once; a later plan took its place. */
  | { readonly kind: "superseded" }
  /** Since it was made, another plan was accepted. */
  | { readonly kind: "another-accepted"; readonly planId: number }
  /** It has runs in sessions that are over. */
  | { readonly kind: "sessions-over"; readonly dates: readonly string[] }
  /** The workshop is no longer what it was made for. */
  | { readonly kind: "changed"; readonly changes: readonly Change[] }
  | { readonly kind: "nothing-to-plan"; readonly why: NoCase };

/** What speaks against following a plan that is not followed now; null when nothing does. */
export async function findObstacle(
  transaction: Transaction,
  row: Pick<typeof plans.$inferSelect, "state" | "asOfChange">,
  kept: KeptPlan,
  now: Date,
): Promise<Obstacle | null> {
  if (row.state === "superseded") return { kind: "superseded" };
  const planId = await acceptedSince(transaction, row.asOfChange);
  if (planId !== undefined) return { kind: "another-accepted", planId };
  const over = kept.plan.runs.filter(({ session }) => sessionAt(kept, session).endsAt <= now);
  if (over.length > 0) {
    const dates = over.map(({ session }) => kept.planCase.sessions[session]?.date ?? "");
    return { kind: "sessions-over", dates: [...new Set(dates)] };
  }
  const changed = await changesSince(transaction, kept, now);
  if (!changed.ok) return { kind: "nothing-to-plan", why: changed.refusal };
  return changed.value.length > 0 ? { kind: "changed", changes: changed.value } : null;
}

/** Whether a question still is the one the workshop would ask now, and its plan could be followed. */
export async function questionStands(
  transaction: Transaction,
  question: Question,
  now: Date,
): Promise<boolean> {
  if ((await acceptedSince(transaction, question.asOfChange)) !== undefined) return false;
  const changed = await changesSince(transaction, question, now);
  return changed.ok && changed.value.length === 0;
}

async function acceptedSince(transaction: Transaction, asOfChange: number): Promise<number | undefined> {
  const [accepted] = await transaction
    .select({ planId: changes.subjectId })
    .from(changes)
    .where(and(eq(changes.subject, "plan"), eq(changes.what, "accepted"), gt(changes.id, asOfChange)))
    .orderBy(asc(changes.id))
    .limit(1);
  return accepted?.planId;
}
