import { and, asc, eq, inArray, isNull, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lots } from "../../db/schema/lots.ts";
import { recalls } from "../../db/schema/recalls.ts";
import { supplyLots } from "../../db/schema/supplyLots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockLot } from "../shelf/lockLot.ts";
import { lockSupply } from "../supplies/lockSupplies.ts";
import type { RecallRefusal } from "./refusals.ts";

/** What is called back: a lot of pieces, or a lot of a supply with every lot of pieces that has it in. */
export type RecalledThing =
  | { readonly kind: "lot"; readonly id: number }
  | { readonly kind: "supply-lot"; readonly id: number };

export type Recall = RecalledThing & { readonly reason: string };

/**
 * Calls a lot back: from now on nothing is packed of what it concerns, nothing of it leaves, and of a supply's lot
 * nothing more is taken. Locks the lots first and the supply after, as the bench and the packing table do. A run that is
 * weighed out with the supply between the two has no ready pieces yet; what it took is seen by whoever wants to pack
 * them (`lot_stops`).
 */
export async function beginRecall(
  transaction: Transaction,
  actor: Actor,
  { kind, id, reason }: Recall,
): Promise<Result<{ readonly recallId: number }, RecallRefusal>> {
  const held = await (kind === "lot" ? holdLot(transaction, id) : holdSupplyLot(transaction, id));
  if (!held) return refuse({ why: "no-such-lot" });
  const which = kind === "lot" ? { lotId: id } : { supplyLotId: id };
  const column = kind === "lot" ? recalls.lotId : recalls.supplyLotId;
  const [open] = await transaction
    .select({ id: recalls.id })
    .from(recalls)
    .where(and(eq(column, id), isNull(recalls.endedAt)));
  if (open) return refuse({ why: "recalled-already", code: held.code });
  const [row] = await transaction
    .insert(recalls)
    .values({ ...which, reason, begunAt: actor.at, begunBy: actor.personId })
    .returning({ id: recalls.id });
  if (!row) throw new Error("The recall's row did not come back");
  await recordChange(transaction, actor, {
    subject: "recall",
    subjectId: row.id,
    what: "begun",
    after: { ...which, code: held.code, reason },
  });
  return ok({ recallId: row.id });
}

async function holdLot(transaction: Transaction, lotId: number) {
  const lot = await lockLot(transaction, lotId);
  return lot && lot.formedAt !== null ? { code: lot.code } : null;
}

async function holdSupplyLot(transaction: Transaction, supplyLotId: number) {
  const [lot] = await transaction
    .select({ code: supplyLots.code, supplyId: supplyLots.supplyId })
    .from(supplyLots)
    .where(eq(supplyLots.id, supplyLotId));
  if (!lot) return null;
  const made = sql`(select run_id from supply_moves where lot_id = ${supplyLotId} and run_id is not null)`;
  await transaction
    .select({ id: lots.id })
    .from(lots)
    .where(inArray(lots.runId, made))
    .orderBy(asc(lots.id))
    .for("update");
  await lockSupply(transaction, lot.supplyId);
  return { code: lot.code };
}
