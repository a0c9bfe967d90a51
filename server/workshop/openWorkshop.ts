import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { databaseKnows } from "./databaseKnows.ts";
import type { WorkshopNumbers } from "./forms.ts";

export type OpeningRefusal = "already-open" | "time-zone-unknown";

/** Opens the one workshop of this server. Two openings at once make one: the later waits for the first and is refused. */
export async function openWorkshop(
  transaction: Transaction,
  actor: Actor,
  numbers: WorkshopNumbers,
): Promise<Result<null, OpeningRefusal>> {
  if (!(await databaseKnows(transaction, numbers.timeZone))) return refuse("time-zone-unknown");
  const opened = await transaction
    .insert(workshop)
    .values({ ...numbers, createdAt: actor.at })
    .onConflictDoNothing()
    .returning({ id: workshop.id });
  const [row] = opened;
  if (!row) return refuse("already-open");
  await recordChange(transaction, actor, {
    subject: "workshop",
    subjectId: row.id,
    what: "opened",
    after: numbers,
  });
  return ok(null);
}
