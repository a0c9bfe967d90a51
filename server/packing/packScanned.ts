import { and, eq, gt } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { products } from "../../db/schema/products.ts";
import { lineProgress, lotBalances } from "../../db/schema/sums.ts";
import { type Result, refuse } from "../basics/result.ts";
import { keptForOthers } from "../holds/kept.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrder } from "./lockOrder.ts";
import { takesPieces } from "./orderState.ts";
import { packPieces } from "./packPieces.ts";
import type { PackingRefusal } from "./refusals.ts";

interface ScannedLot {
  readonly orderId: number;
  readonly lotCode: string;
  /** Null: all that the line still needs and the lot can give. */
  readonly units: number | null;
  /** The number of the last move the packer saw. */
  readonly lastMoveSeen: number;
}

/** Packs a lot that the packer holds in the hand: an order has one line a product, so the lot says which line it is. */
export async function packScanned(
  transaction: Transaction,
  actor: Actor,
  { orderId, lotCode, units, lastMoveSeen }: ScannedLot,
): Promise<Result<{ readonly orderId: number }, PackingRefusal>> {
  const order = await lockOrder(transaction, orderId);
  if (!order) return refuse({ why: "no-such-order" });
  if (!takesPieces(order.state))
    return refuse({ why: "wrong-state", reference: order.reference, state: order.state });
  const lot = await lockLotByCode(transaction, lotCode);
  if (!lot) return refuse({ why: "no-such-lot-code", lotCode });
  const { product, state } = lot;
  if (state !== "ready") return refuse({ why: "lot-not-ready", lotCode, state });
  const [line] = await transaction
    .select()
    .from(lineProgress)
    .where(
      and(
        eq(lineProgress.orderId, orderId),
        eq(lineProgress.productId, lot.productId),
        gt(lineProgress.orderedUnits, 0),
      ),
    );
  if (!line) return refuse({ why: "not-asked-for", lotCode, product, reference: order.reference });
  const left = line.orderedUnits - line.packedUnits;
  if (left === 0) return refuse({ why: "line-full", product, ordered: line.orderedUnits });
  if (lot.units === 0) return refuse({ why: "lot-empty", lotCode });
  const kept = await keptForOthers(transaction, line.orderLineId, [lot.id]);
  const free = kept.reduce((sum, part) => sum - part.units, lot.units);
  // Where all of it is kept for others, packing says for whom.
  const takes = [{ lotId: lot.id, units: units ?? Math.min(left, free > 0 ? free : lot.units) }];
  return await packPieces(transaction, actor, { orderLineId: line.orderLineId, takes, lastMoveSeen });
}

/** The balance is read after the lock, in a statement of its own: only then does it hold what the last packer did. */
async function lockLotByCode(transaction: Transaction, lotCode: string) {
  const [lot] = await transaction
    .select({ id: lots.id, productId: lots.productId, product: products.name, state: lots.state })
    .from(lots)
    .innerJoin(products, eq(products.id, lots.productId))
    .where(eq(lots.code, lotCode))
    .for("update", { of: lots });
  if (!lot) return undefined;
  const [balance] = await transaction
    .select({ units: lotBalances.units })
    .from(lotBalances)
    .where(eq(lotBalances.lotId, lot.id));
  return { ...lot, units: balance?.units ?? 0 };
}
