import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { ok, type Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { MinorUnits } from "../money/minorUnits.ts";

export interface Costing {
  readonly supplyCost: "last-paid" | "average";
  readonly hourMinor: MinorUnits | null;
}

/** Says by which price supplies count and what an hour of hands costs. */
export async function changeCosting(
  transaction: Transaction,
  actor: Actor,
  after: Costing,
): Promise<Result<null, never>> {
  const [before] = await transaction
    .select({ supplyCost: workshop.supplyCost, hourMinor: workshop.hourMinor })
    .from(workshop)
    .for("update");
  if (!before) throw new Error("There is no workshop to change");
  if (before.supplyCost === after.supplyCost && before.hourMinor === after.hourMinor) return ok(null);
  await transaction.update(workshop).set(after);
  await recordChange(transaction, actor, {
    subject: "money",
    subjectId: 1,
    what: "changed",
    before,
    after,
  });
  return ok(null);
}
