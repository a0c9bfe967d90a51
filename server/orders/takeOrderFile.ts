import { inArray, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { changes } from "../../db/schema/changes.ts";
import { customers } from "../../db/schema/customers.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { products } from "../../db/schema/products.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { fixPrices } from "../prices/fixPrices.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import type { CheckedFile, FileOrder } from "./checkOrderFile.ts";
import type { WrittenContent } from "./content.ts";
import { examineOrderFile, type OrderFile } from "./examineOrderFile.ts";
import { type Tell, tellNobody } from "./filesInWork.ts";
import { keepPromises } from "./keepPromise.ts";
import type { KnownForFile } from "./knownForFile.ts";
import { holdReferences } from "./references.ts";

/** A file that cannot be taken, with what is needed to say why. */
interface FileRefusal {
  readonly checked: CheckedFile;
  readonly known: KnownForFile;
}

/** The file, and the currency in which its prices were shown before it was taken. */
interface FileToTake {
  readonly file: OrderFile;
  readonly currency: string;
}

/**
 * Takes a file of orders, whole or not at all; its new orders are confirmed. Orders that are there already with the
 * same content are left as they are, so that taking a file twice makes nothing twice.
 */
export async function takeOrderFile(
  transaction: Transaction,
  actor: Actor,
  { file, currency }: FileToTake,
  tell: Tell = tellNobody,
): Promise<Result<{ readonly taken: number; readonly takenBefore: number }, FileRefusal>> {
  await holdReferences(transaction);
  // No customer becomes a market, and nothing is retired, between the check and the rows.
  await transaction.execute(sql`lock table ${customers}, ${products} in share mode`);
  const held = await holdCurrency(transaction);
  const { checked, known } = await examineOrderFile(transaction, actor.at, file, tell);
  if (checked.mistakes.length > 0) return refuse({ checked, known });
  const priced = checked.fresh.flatMap((order) => order.lines).find((line) => line.unitPriceMinor !== null);
  if (priced && held !== currency) {
    const mistakes = [{ line: priced.line, why: "currency-changed", currency: held } as const];
    return refuse({ checked: { ...checked, mistakes }, known });
  }
  if (checked.fresh.length > 0) await insertOrders(transaction, actor, checked.fresh, held, tell);
  return ok({ taken: checked.fresh.length, takenBefore: checked.takenBefore.length });
}

/** A statement's rows at most: a row of an order takes 14 of the 65 535 parameters that a statement of Postgres has. */
const ROWS_AT_ONCE = 1000;

/** A statement for a thousand rows, as one for each would be slow. */
async function insertOrders(
  transaction: Transaction,
  actor: Actor,
  fresh: readonly FileOrder[],
  currency: string,
  tell: Tell,
): Promise<void> {
  const ids = new Map<string, number>();
  // An order is written, then its lines, then its history.
  const lineCount = fresh.reduce((sum, order) => sum + order.lines.length, 0);
  const tellDone = (share: number) =>
    tell({ doing: "taking", done: Math.floor(lineCount * share), of: lineCount });
  for (const part of inParts(fresh)) {
    await tellDone(ids.size / fresh.length / 3);
    const rows = await transaction
      .insert(orders)
      .values(part.map((order) => rowOf(order, actor.at)))
      .returning({ id: orders.id, reference: orders.reference });
    for (const row of rows) ids.set(row.reference, row.id);
  }
  const withIds = fresh.map((order) => ({ order, orderId: idOf(ids, order) }));
  const lines = withIds.flatMap(({ order, orderId }) =>
    order.lines.map(({ product, units, unitPriceMinor }) => ({
      ...{ orderId, productId: product.id },
      ...{ units, unitPriceMinor },
    })),
  );
  for (const [place, part] of inParts(lines).entries()) {
    await tellDone((1 + (place * ROWS_AT_ONCE) / lineCount) / 3);
    await transaction.insert(orderLines).values([...part]);
  }
  await tellDone(2 / 3);
  await fixPrices(transaction, actor.at, [...ids.values()]);
  await keepPromises(transaction, actor.at, [...ids.values()]);
  const prices = await fixedPrices(transaction, [...ids.values()]);
  const entries = withIds.map(({ order, orderId }) => ({
    ...actor,
    subject: "order",
    subjectId: orderId,
    what: "taken from a file and confirmed",
    after: writtenFrom(order, currency, (productId) => prices.get(`${orderId} ${productId}`) ?? null),
  }));
  for (const part of inParts(entries)) await transaction.insert(changes).values([...part]);
}

function rowOf(order: FileOrder, at: Date): typeof orders.$inferInsert {
  return {
    reference: order.reference,
    customerId: order.customer.id,
    terms: order.terms,
    shipBy: order.shipBy,
    neededBy: order.neededBy,
    customerReference: order.theirNumber,
    note: order.note,
    weight: order.customer.priorityWeight,
    discountBasisPoints: order.customer.orderDiscountBasisPoints,
    shippingMinor: order.customer.shippingMinor,
    state: "confirmed",
    source: "file",
    createdAt: at,
    confirmedAt: at,
  };
}

function inParts<Row>(rows: readonly Row[]): readonly (readonly Row[])[] {
  const starts = Array.from(
    { length: Math.ceil(rows.length / ROWS_AT_ONCE) },
    (_, part) => part * ROWS_AT_ONCE,
  );
  return starts.map((start) => rows.slice(start, start + ROWS_AT_ONCE));
}

/** What a piece costs in each line now, by the numbers of its order and its product. */
async function fixedPrices(
  transaction: Transaction,
  orderIds: readonly number[],
): Promise<ReadonlyMap<string, number | null>> {
  const rows = await transaction
    .select({
      orderId: orderLines.orderId,
      productId: orderLines.productId,
      unitPriceMinor: orderLines.unitPriceMinor,
    })
    .from(orderLines)
    .where(inArray(orderLines.orderId, [...orderIds]));
  return new Map(rows.map((row) => [`${row.orderId} ${row.productId}`, row.unitPriceMinor]));
}

function idOf(ids: ReadonlyMap<string, number>, { reference }: FileOrder): number {
  const orderId = ids.get(reference);
  if (orderId === undefined) throw new Error(`The row of order ${reference} did not come back`);
  return orderId;
}

function writtenFrom(
  order: FileOrder,
  currency: string,
  priceOf: (productId: number) => number | null,
): WrittenContent {
  return {
    reference: order.reference,
    customer: order.customer.name,
    terms: order.terms,
    shipBy: order.shipBy,
    neededBy: order.neededBy,
    customerReference: order.theirNumber,
    note: order.note,
    currency,
    discountBasisPoints: order.customer.orderDiscountBasisPoints,
    shippingMinor: order.customer.shippingMinor,
    lines: order.lines.map(({ product, units }) => ({
      product: product.name,
      units,
      unitPriceMinor: priceOf(product.id),
      discountBasisPoints: 0,
    })),
  };
}
