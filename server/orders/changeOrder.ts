import { and, asc, eq, inArray } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { invoiceLines, invoices } from "../../db/schema/invoices.ts";
import { moves } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { products } from "../../db/schema/products.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrder } from "../packing/lockOrder.ts";
import { fixPrices, fixPricesOfNewLines, losePrices } from "../prices/fixPrices.ts";
import { type CheckedContent, checkContent, type OrderCustomer } from "./checkContent.ts";
import { fingerprintOf, readContent } from "./content.ts";
import { keepPromises } from "./keepPromise.ts";
import { mayChange, type OrderContent, type OrderedProduct } from "./order.ts";
import { holdReferences, referenceTaken } from "./references.ts";
import type { ChangeRefusal } from "./refusals.ts";
import { settleWhenAllHasLeft } from "./settleWhenAllHasLeft.ts";

interface OrderChange extends OrderContent {
  readonly orderId: number;
  readonly reference: string;
  /** The fingerprint of the content that the person who asks for the change had before her eyes. */
  readonly seen: string;
}

type OrderRow = typeof orders.$inferSelect;

/** A line as it is, with what is already packed of it. */
interface StandingLine extends OrderedProduct {
  readonly id: number;
  readonly product: string;
  readonly packed: number;
  readonly unitPriceMinor: number | null;
  readonly discountBasisPoints: number;
}

/**
 * Replaces the content of an order that is not packed yet. Nothing goes below what is packed; when a change leaves
 * only what has been shipped already, the order is done and becomes shipped or delivered.
 */
export async function changeOrder(
  transaction: Transaction,
  actor: Actor,
  change: OrderChange,
): Promise<Result<{ readonly orderId: number }, ChangeRefusal>> {
  await holdReferences(transaction);
  const { orderId } = change;
  const order = await lockOrder(transaction, orderId);
  if (!order) return refuse({ why: "not-found" });
  if (!mayChange(order.state)) return refuse({ why: "past-changing", state: order.state });
  const standing = await readLines(transaction, orderId);
  if (fingerprintOf({ ...order, draft: order.state === "draft", lines: standing }) !== change.seen)
    return refuse({ why: "changed-meanwhile" });
  const checked = await checkContent(transaction, actor.at, change, {
    ...order,
    productIds: new Set(standing.map((line) => line.productId)),
  });
  if (!checked.ok) return checked;
  if (await referenceTaken(transaction, change.reference, orderId))
    return refuse({ why: "reference-taken", reference: change.reference });
  const { customer } = checked.value;
  const refusal = movedWhilePacking(order, change, customer) ?? belowPacked(standing, change.lines);
  if (refusal) return refuse(refusal);
  if (order.customerId !== customer.id && (await isBilled(transaction, orderId)))
    return refuse({ why: "fixed-once-billed" });
  const before = await readContent(transaction, orderId);
  await writeHead(transaction, change, checked.value);
  await writeLines(transaction, orderId, standing, change.lines);
  await followWithPrices(transaction, actor.at, order, customer);
  if (order.state === "draft") await writeMoney(transaction, order, standing, change, customer);
  await keepPromises(transaction, actor.at, [orderId]);
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: orderId,
    what: "changed",
    before,
    after: await readContent(transaction, orderId),
  });
  if (order.state === "packing") await settleWhenAllHasLeft(transaction, actor, orderId);
  return ok({ orderId });
}

async function readLines(transaction: Transaction, orderId: number): Promise<readonly StandingLine[]> {
  return transaction
    .select({
      id: lineProgress.orderLineId,
      productId: lineProgress.productId,
      product: products.name,
      units: lineProgress.orderedUnits,
      packed: lineProgress.packedUnits,
      unitPriceMinor: orderLines.unitPriceMinor,
      discountBasisPoints: orderLines.discountBasisPoints,
    })
    .from(lineProgress)
    .innerJoin(orderLines, eq(orderLines.id, lineProgress.orderLineId))
    .innerJoin(products, eq(products.id, lineProgress.productId))
    .where(eq(lineProgress.orderId, orderId))
    .orderBy(asc(lineProgress.orderLineId));
}

/** Once packing has begun the labels and slips are right only for this customer, reference and terms. */
function movedWhilePacking(
  order: OrderRow,
  change: OrderChange,
  customer: OrderCustomer,
): ChangeRefusal | null {
  if (order.state !== "packing") return null;
  if (order.reference !== change.reference) return { why: "fixed-while-packing", field: "reference" };
  if (order.customerId !== customer.id) return { why: "fixed-while-packing", field: "customer" };
  if (order.terms !== customer.terms) return { why: "fixed-while-packing", field: "terms" };
  return null;
}

function belowPacked(
  standing: readonly StandingLine[],
  asked: readonly OrderedProduct[],
): ChangeRefusal | null {
  for (const { productId, product, packed } of standing) {
    const line = asked.findIndex((askedLine) => askedLine.productId === productId);
    const units = asked[line]?.units;
    if (units === undefined && packed > 0) return { why: "packed-line-missing", product, packed };
    if (units !== undefined && units < packed) return { why: "below-packed", line, product, packed };
  }
  return null;
}

async function writeHead(
  transaction: Transaction,
  { orderId, reference, note, neededBy = null, customerReference = "" }: OrderChange,
  { customer, shipBy }: CheckedContent,
): Promise<void> {
  await transaction
    .update(orders)
    .set({
      reference,
      shipBy,
      neededBy,
      customerReference,
      note,
      customerId: customer.id,
      terms: customer.terms,
      weight: customer.priorityWeight,
    })
    .where(eq(orders.id, orderId));
}

/** An invoice names the customer it was written to. */
async function isBilled(transaction: Transaction, orderId: number): Promise<boolean> {
  return (await transaction.$count(invoices, eq(invoices.orderId, orderId))) > 0;
}

/**
 * Lines that stay keep their row, as packed pieces and invoices point at it; so do lines that had pieces once, struck to
 * none.
 */
async function writeLines(
  transaction: Transaction,
  orderId: number,
  standing: readonly StandingLine[],
  asked: readonly OrderedProduct[],
): Promise<void> {
  const wanted = new Map(asked.map((line) => [line.productId, line.units]));
  const pointedAt = await linesPointedAt(transaction, standing);
  for (const line of standing) {
    const units = wanted.get(line.productId) ?? 0;
    if (units === 0 && !pointedAt.has(line.id))
      await transaction.delete(orderLines).where(eq(orderLines.id, line.id));
    else if (units !== line.units)
      await transaction.update(orderLines).set({ units }).where(eq(orderLines.id, line.id));
  }
  const there = new Set(standing.map((line) => line.productId));
  const fresh = asked.filter((line) => !there.has(line.productId));
  if (fresh.length === 0) return;
  await transaction
    .insert(orderLines)
    .values(fresh.map((line) => ({ orderId, productId: line.productId, units: line.units })));
}

/** Fixed prices stay with the customer they were fixed for; another one pays what is in force for them today. */
async function followWithPrices(
  transaction: Transaction,
  at: Date,
  before: OrderRow,
  customer: OrderCustomer,
): Promise<void> {
  if (before.customerId !== customer.id) await losePrices(transaction, before.id);
  if (before.state === "draft") return;
  await fixPricesOfNewLines(transaction, at, before.id);
  if (before.customerId !== customer.id) await fixPrices(transaction, at, [before.id]);
}

/**
 * Prices, discounts and shipping as they were typed into a draft. Where it goes to another customer, what was left as it
 * stood belonged to the former one, and the new one's terms take its place.
 */
async function writeMoney(
  transaction: Transaction,
  before: OrderRow,
  standing: readonly StandingLine[],
  change: OrderChange,
  customer: OrderCustomer,
): Promise<void> {
  const moved = before.customerId !== customer.id;
  const typed = <Amount>(amount: Amount, was: Amount | undefined, usual: Amount) =>
    moved && amount === was ? usual : amount;
  await transaction
    .update(orders)
    .set({
      discountBasisPoints:
        typed(change.discountBasisPoints ?? null, before.discountBasisPoints, null) ??
        customer.orderDiscountBasisPoints,
      shippingMinor:
        typed(change.shippingMinor ?? null, before.shippingMinor, null) ?? customer.shippingMinor,
    })
    .where(eq(orders.id, before.id));
  const known = new Map(standing.map((line) => [line.productId, line]));
  for (const { productId, unitPriceMinor = null, discountBasisPoints = 0 } of change.lines) {
    const was = known.get(productId);
    if (!moved && was?.unitPriceMinor === unitPriceMinor && was.discountBasisPoints === discountBasisPoints)
      continue;
    await transaction
      .update(orderLines)
      .set({
        unitPriceMinor: typed(unitPriceMinor, was?.unitPriceMinor, null),
        discountBasisPoints: typed(discountBasisPoints, was?.discountBasisPoints, 0),
      })
      .where(and(eq(orderLines.orderId, before.id), eq(orderLines.productId, productId)));
  }
}

async function linesPointedAt(
  transaction: Transaction,
  standing: readonly StandingLine[],
): Promise<ReadonlySet<number | null>> {
  const lineIds = standing.map((line) => line.id);
  const rows = await transaction
    .select({ lineId: moves.orderLineId })
    .from(moves)
    .where(inArray(moves.orderLineId, lineIds))
    .union(
      transaction
        .select({ lineId: invoiceLines.orderLineId })
        .from(invoiceLines)
        .where(inArray(invoiceLines.orderLineId, lineIds)),
    );
  return new Set(rows.map((row) => row.lineId));
}
