import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { packingNotes } from "../../db/schema/packingNotes.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrder } from "./lockOrder.ts";
import type { PackingRefusal } from "./refusals.ts";

interface OldNote {
  readonly orderId: number;
  readonly noteId: number;
}

/** Takes away a note that is done with. One that somebody else took away just before is as good as gone. */
export async function dropPackingNote(
  transaction: Transaction,
  actor: Actor,
  { orderId, noteId }: OldNote,
): Promise<Result<{ readonly orderId: number }, PackingRefusal>> {
  if (!(await lockOrder(transaction, orderId))) return refuse({ why: "no-such-order" });
  const [dropped] = await transaction
    .delete(packingNotes)
    .where(and(eq(packingNotes.id, noteId), eq(packingNotes.orderId, orderId)))
    .returning({ words: packingNotes.words });
  if (dropped)
    await recordChange(transaction, actor, {
      subject: "order",
      subjectId: orderId,
      what: "packing note taken away",
      before: dropped,
    });
  return ok({ orderId });
}
