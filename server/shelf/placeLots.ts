import { asc, inArray } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lots } from "../../db/schema/lots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { ShelfRefusal } from "./refusals.ts";

interface Placing {
  /** At least one. */
  readonly lotIds: readonly number[];
  /** Blank: they stand at no place any more. */
  readonly shelfPlace: string;
}

/** Says where on the shelf ready lots stand: all of them or, when one of them may not stand there, none. */
export async function placeLots(
  transaction: Transaction,
  actor: Actor,
  { lotIds, shelfPlace }: Placing,
): Promise<Result<{ readonly shelfPlace: string }, ShelfRefusal>> {
  const wanted = [...new Set(lotIds)];
  const found = await transaction
    .select()
    .from(lots)
    .where(inArray(lots.id, wanted))
    .orderBy(asc(lots.id))
    .for("update");
  if (found.length < wanted.length) return refuse({ kind: "not-found" });
  const unready = found.find((lot) => lot.state !== "ready");
  if (unready) return refuse({ kind: "not-ready", code: unready.code });
  const moved = found.filter((lot) => lot.shelfPlace !== shelfPlace);
  for (const lot of moved) {
    await recordChange(transaction, actor, {
      subject: "lot",
      subjectId: lot.id,
      what: "put at a place",
      before: { shelfPlace: lot.shelfPlace },
      after: { shelfPlace },
    });
  }
  await transaction.update(lots).set({ shelfPlace }).where(inArray(lots.id, wanted));
  return ok({ shelfPlace });
}
