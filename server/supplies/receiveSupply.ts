import { and, eq, isNull } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { purchases, suppliers, supplyPacks } from "../../db/schema/suppliers.ts";
import { supplyLots, supplyMoves } from "../../db/schema/supplyLots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { MinorUnits } from "../money/minorUnits.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import { workshopDay } from "../workshop/workshopDay.ts";
import { type AmountRefusal, supplyAmountOf, type WrittenAmount } from "./amounts.ts";
import { type LockedSupply, lockSupply } from "./lockSupplies.ts";
import { newSupplyLotCode } from "./supplyLotCode.ts";

/** How much came: so much of a unit, or so many of a supplier's packs. */
export type ReceivedQuantity = WrittenAmount | { readonly packId: number; readonly packs: number };

export interface Receipt {
  readonly supplyId: number;
  readonly supplierId: number | null;
  readonly supplierLot: string;
  readonly quantity: ReceivedQuantity;
  /** What all of it cost, without tax, in minor units of the workshop's currency; null: not known. */
  readonly priceMinor: MinorUnits | null;
  readonly receivedOn: string;
  readonly expiresOn: string | null;
  /** Which purchase it is that came; it is then no longer expected. */
  readonly purchaseId: number | null;
}

export type ReceiptRefusal =
  | "not-found"
  | "retired"
  | "supplier-unknown"
  | "pack-unknown"
  | "purchase-unknown"
  | "not-here-yet"
  | "expired-before-it-came"
  | AmountRefusal;

/** A delivery has come: a lot of its own, with all that came in it. */
export async function receiveSupply(
  transaction: Transaction,
  actor: Actor,
  receipt: Receipt,
): Promise<
  Result<{ readonly lotId: number; readonly supplyId: number; readonly code: string }, ReceiptRefusal>
> {
  const locked = await lockSupply(transaction, receipt.supplyId);
  if (!locked) return refuse("not-found");
  if (locked.supply.retiredAt !== null) return refuse("retired");
  const { receivedOn, expiresOn } = receipt;
  if (receivedOn > (await workshopDay(transaction, actor.at))) return refuse("not-here-yet");
  if (expiresOn !== null && expiresOn < receivedOn) return refuse("expired-before-it-came");
  const measured = await measure(transaction, locked, receipt);
  if (!measured.ok) return measured;
  const { amount, supplierId } = measured.value;
  if (!(await closePurchase(transaction, receipt))) return refuse("purchase-unknown");
  if (receipt.priceMinor !== null) await holdCurrency(transaction);

  const code = await newSupplyLotCode(transaction);
  const { quantity: _quantity, ...facts } = receipt;
  const [lot] = await transaction
    .insert(supplyLots)
    .values({ ...facts, supplierId, code, createdAt: actor.at, createdBy: actor.personId })
    .returning({ id: supplyLots.id });
  if (!lot) throw new Error("The new lot's row did not come back");
  await transaction.insert(supplyMoves).values({
    ...{ supplyId: receipt.supplyId, lotId: lot.id, kind: "received", amount },
    ...{ at: actor.at, personId: actor.personId },
  });
  await recordChange(transaction, actor, {
    subject: "supply lot",
    subjectId: lot.id,
    what: "received",
    after: { ...facts, supplierId, code, amount },
  });
  return ok({ lotId: lot.id, supplyId: receipt.supplyId, code });
}

/** How much it is, and of whom: a pack is always its own supplier's. */
async function measure(
  transaction: Transaction,
  { supply }: LockedSupply,
  { quantity, supplierId }: Receipt,
): Promise<Result<{ readonly amount: number; readonly supplierId: number | null }, ReceiptRefusal>> {
  if ("packId" in quantity) {
    const ofIts = and(eq(supplyPacks.id, quantity.packId), eq(supplyPacks.supplyId, supply.id));
    const [pack] = await transaction.select().from(supplyPacks).where(ofIts);
    if (!pack || (supplierId !== null && supplierId !== pack.supplierId)) return refuse("pack-unknown");
    return ok({ amount: pack.amount * quantity.packs, supplierId: pack.supplierId });
  }
  const amount = supplyAmountOf(quantity, supply);
  if (!amount.ok) return amount;
  if (supplierId !== null && !(await isInUse(transaction, supplierId))) return refuse("supplier-unknown");
  return ok({ amount: amount.value, supplierId });
}

async function isInUse(transaction: Transaction, supplierId: number): Promise<boolean> {
  const inUse = and(eq(suppliers.id, supplierId), isNull(suppliers.retiredAt));
  return (await transaction.$count(suppliers, inUse)) > 0;
}

/** False where there is no such open purchase of this supply. */
async function closePurchase(transaction: Transaction, { purchaseId, supplyId }: Receipt): Promise<boolean> {
  if (purchaseId === null) return true;
  const closed = await transaction
    .update(purchases)
    .set({ state: "received" })
    .where(and(eq(purchases.id, purchaseId), eq(purchases.supplyId, supplyId), eq(purchases.state, "open")))
    .returning({ id: purchases.id });
  return closed.length > 0;
}
