import { and, asc, eq, inArray, ne, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { deliveryLines } from "../../db/schema/deliveryLines.ts";
import { orderPromiseLines, orderPromises } from "../../db/schema/orderPromises.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { products } from "../../db/schema/products.ts";
import { dateOf } from "../../views/format/dates.ts";
import { groupBy } from "../basics/groupBy.ts";
import { keptLines, promiseThatCounts, verdictOf } from "./promiseKept.ts";

/** The day on which a page or a file is asked for, on the workshop's calendar. */
interface Day {
  readonly today: string;
  readonly timeZone: string;
}

export type KeptPromise = NonNullable<Awaited<ReturnType<typeof findKeptPromise>>>;
export type KeptOrder = Awaited<ReturnType<typeof listKeptOrders>>[number];

/** One order's promise and what became of it, product by product; undefined where nothing was promised. */
export async function findKeptPromise(db: Database, orderId: number, day: Day) {
  const [order] = await db.select({ state: orders.state }).from(orders).where(eq(orders.id, orderId));
  const made = (await readPromises(db, [orderId], day)).get(orderId);
  if (!order || !made) return undefined;
  const promise = promiseThatCounts(made);
  const lines = keptLines(promise, (await readLeft(db, [orderId], day)).get(orderId) ?? []);
  const names = await productNames(
    db,
    lines.map(({ productId }) => productId),
  );
  return {
    shipBy: promise.shipBy,
    madeOn: promise.madeOn,
    /** Every promise there was, oldest first. */
    promises: made.map(({ madeOn, shipBy }) => ({ madeOn, shipBy })),
    lines: lines.map((line) => ({ ...line, product: names.get(line.productId) ?? "" })),
    verdict: order.state === "cancelled" ? ("called-off" as const) : verdictOf(promise, lines, day.today),
  };
}

/**
 * The orders of shops that were ever promised and not cancelled, each held to its promise, by its date. A market's crate
 * is the maker's own order: nobody was promised it.
 */
export async function listKeptOrders(db: Database, day: Day) {
  const rows = await db
    .select({
      orderId: orders.id,
      reference: orders.reference,
      customerId: customers.id,
      customer: customers.name,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(
      and(
        eq(customers.kind, "shop"),
        ne(orders.state, "cancelled"),
        sql`exists (select from ${orderPromises} where ${orderPromises.orderId} = ${orders.id})`,
      ),
    )
    .orderBy(asc(orders.id));
  const ids = rows.map(({ orderId }) => orderId);
  const [promises, left] = [await readPromises(db, ids, day), await readLeft(db, ids, day)];
  return rows
    .map((row) => {
      const promise = promiseThatCounts(promises.get(row.orderId) ?? []);
      const lines = keptLines(promise, left.get(row.orderId) ?? []);
      return { ...row, shipBy: promise.shipBy, lines, verdict: verdictOf(promise, lines, day.today) };
    })
    .toSorted((one, other) => (one.shipBy < other.shipBy ? -1 : one.shipBy > other.shipBy ? 1 : 0));
}

/** Every promise of some orders, oldest first. */
async function readPromises(db: Database, orderIds: readonly number[], { timeZone }: Day) {
  const rows = await db
    .select({
      promiseId: orderPromises.id,
      orderId: orderPromises.orderId,
      madeAt: orderPromises.madeAt,
      shipBy: orderPromises.shipBy,
      productId: orderPromiseLines.productId,
      units: orderPromiseLines.units,
    })
    .from(orderPromises)
    .innerJoin(orderPromiseLines, eq(orderPromiseLines.promiseId, orderPromises.id))
    .where(eq(orderPromises.orderId, anyOf(orderIds)))
    .orderBy(asc(orderPromises.id), asc(orderPromiseLines.productId));
  const made = [...groupBy(rows, ({ promiseId }) => promiseId).values()].flatMap((lines) => {
    const [first] = lines;
    if (!first) return [];
    const { orderId, shipBy } = first;
    return [{ orderId, shipBy, madeOn: dateOf(first.madeAt, timeZone), lines }];
  });
  return groupBy(made, ({ orderId }) => orderId);
}

/** What left for some orders, by day and product. */
async function readLeft(db: Database, orderIds: readonly number[], { timeZone }: Day) {
  const rows = await db
    .select({
      orderId: deliveries.orderId,
      shippedAt: deliveries.shippedAt,
      productId: orderLines.productId,
      units: deliveryLines.units,
    })
    .from(deliveries)
    .innerJoin(deliveryLines, eq(deliveryLines.deliveryId, deliveries.id))
    .innerJoin(orderLines, eq(orderLines.id, deliveryLines.orderLineId))
    .where(eq(deliveries.orderId, anyOf(orderIds)))
    .orderBy(asc(deliveryLines.id));
  const left = rows.map(({ shippedAt, ...pieces }) => ({ ...pieces, leftOn: dateOf(shippedAt, timeZone) }));
  return groupBy(left, ({ orderId }) => orderId);
}

async function productNames(
  db: Database,
  productIds: readonly number[],
): Promise<ReadonlyMap<number, string>> {
  if (productIds.length === 0) return new Map();
  const rows = await db
    .select({ id: products.id, name: products.name })
    .from(products)
    .where(inArray(products.id, [...productIds]));
  return new Map(rows.map(({ id, name }) => [id, name]));
}

/** One parameter however many there are: a statement takes only so many. */
function anyOf(ids: readonly number[]) {
  return sql<number>`any(${`{${ids.join(",")}}`}::integer[])`;
}
