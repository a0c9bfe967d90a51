import { asc, inArray } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { firstStopped, type StoppedLot } from "./stops.ts";

/**
 * The first lot in a box that may not leave; undefined where all may. Holds the lots, by id, so that whoever stops one of
 * them at this moment comes before the departure or after it.
 */
export async function whyTheBoxStays(
  transaction: Transaction,
  box: readonly { readonly lotId: number }[],
): Promise<StoppedLot | undefined> {
  const lotIds = [...new Set(box.map(({ lotId }) => lotId))];
  await transaction
    .select({ id: lots.id })
    .from(lots)
    .where(inArray(lots.id, lotIds))
    .orderBy(asc(lots.id))
    .for("update");
  return await firstStopped(transaction, lotIds);
}
