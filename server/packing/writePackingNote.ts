import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { packingNotes } from "../../db/schema/packingNotes.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrder } from "./lockOrder.ts";
import type { PackingRefusal } from "./refusals.ts";

interface NewNote {
  readonly orderId: number;
  readonly words: string;
}

/** Leaves word for whoever packs and ships an order. */
export async function writePackingNote(
  transaction: Transaction,
  actor: Actor,
  { orderId, words }: NewNote,
): Promise<Result<{ readonly orderId: number }, PackingRefusal>> {
  if (!(await lockOrder(transaction, orderId))) return refuse({ why: "no-such-order" });
  await transaction.insert(packingNotes).values({ orderId, words, at: actor.at, personId: actor.personId });
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: orderId,
    what: "packing note written",
    after: { words },
  });
  return ok({ orderId });
}
