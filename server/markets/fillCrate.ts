import { eq } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { markets } from "../../db/schema/markets.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { changeOrder } from "../orders/changeOrder.ts";
import { fingerprintOf } from "../orders/content.ts";
import { enterOrder } from "../orders/enterOrder.ts";
import type { OrderedProduct } from "../orders/order.ts";
import { holdReferences } from "../orders/references.ts";
import { crateShipBy } from "./crateShipBy.ts";
import { type HeldMarket, holdMarket } from "./holdMarket.ts";
import type { MarketRefusal } from "./refusals.ts";

interface Crate {
  readonly marketId: number;
  readonly lines: readonly OrderedProduct[];
  /** What `crateSeen` said when the numbers were shown. */
  readonly seen: string;
}

/**
 * Makes the numbers the crate list of a market: a new draft of an order, or the draft there is. A crate list that is
 * confirmed is changed on its own page, where it is seen what that does to the plan.
 */
export async function fillCrate(
  transaction: Transaction,
  actor: Actor,
  { marketId, lines, seen }: Crate,
): Promise<Result<{ readonly marketId: number }, MarketRefusal>> {
  await holdReferences(transaction);
  const market = await holdMarket(transaction, marketId);
  if (!market) return refuse({ why: "no-such-market" });
  if (market.calledOffAt) return refuse({ why: "called-off" });
  if (market.countedAt) return refuse({ why: "counted" });
  const order = await readList(transaction, market.orderId);
  if ((order === null ? "" : order.seen) !== seen) return refuse({ why: "list-changed" });
  if (order !== null && order.state !== "draft")
    return refuse({ why: "list-stands", reference: order.reference });
  return order === null
    ? await newList(transaction, actor, market, lines)
    : await changedList(transaction, actor, market, order, lines);
}

/** What tells one state of a market's crate list from another; "" while there is none. */
export async function crateSeen(db: Database | Transaction, orderId: number | null): Promise<string> {
  return (await readList(db, orderId))?.seen ?? "";
}

/** A market's crate list; null where there is none, or it was cancelled. */
async function readList(db: Database | Transaction, orderId: number | null) {
  if (orderId === null) return null;
  const [order] = await db.select().from(orders).where(eq(orders.id, orderId));
  if (!order || order.state === "cancelled") return null;
  const lines = await db.select().from(orderLines).where(eq(orderLines.orderId, orderId));
  return { ...order, lines, seen: fingerprintOf({ ...order, draft: order.state === "draft", lines }) };
}

type ReadList = NonNullable<Awaited<ReturnType<typeof readList>>>;

async function newList(
  transaction: Transaction,
  actor: Actor,
  market: HeldMarket,
  lines: readonly OrderedProduct[],
): Promise<Result<{ readonly marketId: number }, MarketRefusal>> {
  const shipBy = await crateShipBy(transaction, market);
  if (shipBy === null) return refuse({ why: "no-working-day" });
  const entered = await enterOrder(transaction, actor, {
    reference: null,
    customerId: market.customerId,
    terms: "market",
    shipBy,
    neededBy: market.heldOn,
    note: "",
    lines,
    confirm: false,
  });
  if (!entered.ok) return refuse({ why: "list-refused", refusal: entered.refusal });
  const { orderId, reference } = entered.value;
  await transaction.update(markets).set({ orderId }).where(eq(markets.id, market.id));
  await recordChange(transaction, actor, {
    subject: "market",
    subjectId: market.id,
    what: "crate list made",
    after: { orderId, reference },
  });
  return ok({ marketId: market.id });
}

async function changedList(
  transaction: Transaction,
  actor: Actor,
  market: HeldMarket,
  order: ReadList,
  lines: readonly OrderedProduct[],
): Promise<Result<{ readonly marketId: number }, MarketRefusal>> {
  const standing = new Map(order.lines.map((line) => [line.productId, line]));
  const changed = await changeOrder(transaction, actor, {
    orderId: order.id,
    seen: order.seen,
    reference: order.reference,
    customerId: order.customerId,
    terms: order.terms,
    shipBy: order.shipBy,
    neededBy: order.neededBy,
    customerReference: order.customerReference,
    note: order.note,
    discountBasisPoints: order.discountBasisPoints,
    shippingMinor: order.shippingMinor,
    lines: lines.map((line) => ({
      productId: line.productId,
      units: line.units,
      unitPriceMinor: standing.get(line.productId)?.unitPriceMinor ?? null,
      discountBasisPoints: standing.get(line.productId)?.discountBasisPoints ?? 0,
    })),
  });
  if (changed.ok) return ok({ marketId: market.id });
  return refuse({ why: "list-refused", refusal: changed.refusal });
}
