import { and, eq, inArray, isNull } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { purchases, suppliers, supplyPacks } from "../../db/schema/suppliers.ts";
import { dateAway } from "../../views/format/dates.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import { workshopDay } from "../workshop/workshopDay.ts";

export interface PlacedOrder {
  readonly supplierId: number;
  readonly lines: readonly { readonly packId: number; readonly packs: number }[];
}

export type PlacingRefusal = "not-found" | "pack-unknown";

/** Packs were ordered of a supplier today: they are on their way, and due after the days the supplier takes. */
export async function placeOrder(
  transaction: Transaction,
  actor: Actor,
  { supplierId, lines }: PlacedOrder,
): Promise<Result<null, PlacingRefusal>> {
  const [supplier] = await transaction.select().from(suppliers).where(eq(suppliers.id, supplierId));
  if (!supplier) return refuse("not-found");
  await holdCurrency(transaction);
  const packIds = lines.map(({ packId }) => packId);
  const packs = await transaction
    .select()
    .from(supplyPacks)
    .where(
      and(
        inArray(supplyPacks.id, packIds),
        eq(supplyPacks.supplierId, supplierId),
        isNull(supplyPacks.retiredAt),
      ),
    )
    .orderBy(supplyPacks.id)
    .for("share");
  const orderedOn = await workshopDay(transaction, actor.at);
  for (const line of lines) {
    const pack = packs.find(({ id }) => id === line.packId);
    if (!pack) return refuse("pack-unknown");
    const purchase = {
      ...{ supplyId: pack.supplyId, supplierId, amount: pack.amount * line.packs },
      priceMinor: pack.priceMinor === null ? null : pack.priceMinor * line.packs,
      ...{ orderedOn, dueOn: dateAway(orderedOn, supplier.deliveryDays) },
    };
    const [row] = await transaction
      .insert(purchases)
      .values({ ...purchase, orderedBy: actor.personId, state: "open" })
      .returning({ id: purchases.id });
    if (!row) throw new Error("The new purchase's row did not come back");
    await recordChange(transaction, actor, {
      subject: "purchase",
      subjectId: row.id,
      what: "ordered",
      after: purchase,
    });
  }
  return ok(null);
}

/** What was ordered does not come after all. */
export async function callOffPurchase(
  transaction: Transaction,
  actor: Actor,
  { purchaseId }: { readonly purchaseId: number },
): Promise<Result<null, "not-open">> {
  const [row] = await transaction
    .update(purchases)
    .set({ state: "called-off" })
    .where(and(eq(purchases.id, purchaseId), eq(purchases.state, "open")))
    .returning({ id: purchases.id });
  if (!row) return refuse("not-open");
  await recordChange(transaction, actor, {
    subject: "purchase",
    subjectId: purchaseId,
    what: "called off",
    before: { state: "open" },
    after: { state: "called-off" },
  });
  return ok(null);
}
