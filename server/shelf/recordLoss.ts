import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { moves } from "../../db/schema/lots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockLot } from "./lockLot.ts";
import { isFormed, type LossCause } from "./lot.ts";
import type { ShelfRefusal } from "./refusals.ts";

interface Loss {
  readonly lotId: number;
  readonly units: number;
  readonly cause: LossCause;
  readonly note: string;
}

/** Takes broken, swollen or kept pieces off a lot; refused when fewer are there, whoever took them just before. */
export async function recordLoss(
  transaction: Transaction,
  actor: Actor,
  { lotId, units, cause, note }: Loss,
): Promise<Result<{ readonly lotId: number }, ShelfRefusal>> {
  const lot = await lockLot(transaction, lotId);
  if (!lot) return refuse({ kind: "not-found" });
  if (!isFormed(lot.state)) return refuse({ kind: "has-no-pieces" });
  if (units > lot.balance) return refuse({ kind: "fewer-there", balance: lot.balance });
  await transaction
    .insert(moves)
    .values({ lotId, kind: "lost", units: -units, cause, note, at: actor.at, personId: actor.personId });
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "lost pieces",
    before: { units: lot.balance },
    after: { units: lot.balance - units, cause, note },
  });
  return ok({ lotId });
}
