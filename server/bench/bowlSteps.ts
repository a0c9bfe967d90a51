import { and, asc, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { bowls } from "../../db/schema/bowls.ts";
import { runs } from "../../db/schema/plans.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { BenchRefusal } from "./refusals.ts";

/** What happens to a bowl, in this order: weighing begins, the mix is right, all of it is pressed. */
export const bowlSteps = ["begun", "mixed", "pressed"] as const;

export type BowlStepName = (typeof bowlSteps)[number];

export interface BowlStep {
  readonly runId: number;
  /** Counted from 1. */
  readonly bowl: number;
  readonly step: BowlStepName;
}

type BowlRow = typeof bowls.$inferSelect;

/** Notes that a bowl of a run in the bowl is one step further. The bowls of a run are begun in their order. */
export async function takeBowlStep(
  transaction: Transaction,
  actor: Actor,
  { runId, bowl, step }: BowlStep,
): Promise<Result<{ readonly runId: number }, BenchRefusal>> {
  const held = await holdBowls(transaction, runId, bowl);
  if (!held.ok) return held;
  const row = held.value.find((one) => one.bowl === bowl);
  if (step !== stepAfter(row)) return refuse({ kind: "bowl-moved-on", bowl, last: lastStep(row) });
  if (bowl > held.value.length + 1) return refuse({ kind: "bowl-out-of-turn", next: held.value.length + 1 });
  const at = noSooner(actor.at, row);
  if (row === undefined)
    await transaction.insert(bowls).values({ runId, bowl, startedAt: at, personId: actor.personId });
  else await transaction.update(bowls).set(timeOf(step, at)).where(rowOf(row));
  await recordChange(transaction, actor, {
    subject: "run",
    subjectId: runId,
    what: `bowl ${step}`,
    after: { bowl, at },
  });
  return ok({ runId });
}

/** Takes the last step of a bowl back, where it is still the last one: a bowl that was begun is then not begun. */
export async function takeBowlStepBack(
  transaction: Transaction,
  actor: Actor,
  { runId, bowl, step }: BowlStep,
): Promise<Result<{ readonly runId: number }, BenchRefusal>> {
  const held = await holdBowls(transaction, runId, bowl);
  if (!held.ok) return held;
  const row = held.value.find((one) => one.bowl === bowl);
  if (row === undefined || step !== lastStep(row))
    return refuse({ kind: "bowl-moved-on", bowl, last: lastStep(row) });
  if (step === "begun" && bowl < held.value.length)
    return refuse({ kind: "bowl-moved-on", bowl, last: "begun" });
  if (step === "begun") await transaction.delete(bowls).where(rowOf(row));
  else await transaction.update(bowls).set(timeOf(step, null)).where(rowOf(row));
  await recordChange(transaction, actor, {
    subject: "run",
    subjectId: runId,
    what: `bowl not ${step}`,
    before: row,
  });
  return ok({ runId });
}

/** Holds the run, which is what its bowls hang on, and reads those that were begun, in their order. */
async function holdBowls(
  transaction: Transaction,
  runId: number,
  bowl: number,
): Promise<Result<readonly BowlRow[], BenchRefusal>> {
  const [run] = await transaction.select().from(runs).where(eq(runs.id, runId)).for("update");
  if (!run) return refuse({ kind: "no-such-run" });
  if (run.state !== "mixing") return refuse({ kind: "run-not-in-the-bowl" });
  if (bowl > run.bowls) return refuse({ kind: "no-such-bowl", bowls: run.bowls });
  return ok(await transaction.select().from(bowls).where(eq(bowls.runId, runId)).orderBy(asc(bowls.bowl)));
}

/** The step a bowl has taken last; null before it is begun. */
function lastStep(row: BowlRow | undefined): BowlStepName | null {
  if (row === undefined) return null;
  if (row.pressedAt !== null) return "pressed";
  return row.mixedAt === null ? "begun" : "mixed";
}

function stepAfter(row: BowlRow | undefined): BowlStepName | null {
  const last = lastStep(row);
  return bowlSteps[last === null ? 0 : bowlSteps.indexOf(last) + 1] ?? null;
}

/** Servers' clocks may differ by a little; a step never comes before the one it follows. */
function noSooner(at: Date, row: BowlRow | undefined): Date {
  const before = row?.mixedAt ?? row?.startedAt ?? at;
  return before > at ? before : at;
}

function timeOf(step: BowlStepName, at: Date | null) {
  return step === "pressed" ? { pressedAt: at } : { mixedAt: at };
}

function rowOf({ runId, bowl }: BowlRow) {
  return and(eq(bowls.runId, runId), eq(bowls.bowl, bowl));
}
