import { isDeepStrictEqual } from "node:util";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { databaseKnows } from "./databaseKnows.ts";
import type { WorkshopNumbers } from "./forms.ts";

/** Gives the workshop other numbers; the next plan uses them. What is already drying keeps what it has. */
export async function changeWorkshop(
  transaction: Transaction,
  actor: Actor,
  after: WorkshopNumbers,
): Promise<Result<null, "time-zone-unknown">> {
  const [row] = await transaction.select().from(workshop).for("update");
  if (!row) throw new Error("There is no workshop to change");
  const { id, createdAt: _, ...before } = row;
  if (isDeepStrictEqual(before, { ...before, ...after })) return ok(null);
  if (!(await databaseKnows(transaction, after.timeZone))) return refuse("time-zone-unknown");
  await transaction.update(workshop).set(after);
  await recordChange(transaction, actor, {
    subject: "workshop",
    subjectId: id,
    what: "changed",
    before,
    after,
  });
  return ok(null);
}
