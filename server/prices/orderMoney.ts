import { and, asc, eq, gt, inArray, type SQL, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { minorUnits } from "../money/minorUnits.ts";
import { listOfOrder, listPriceOn, ownPriceOn, priceOf, taxOn } from "./inForce.ts";
import { type LineWithPrice, type OrderMoney, priceOrder } from "./priceOrder.ts";

/**
 * The money of an order: as it was fixed at confirmation, or what it would be if it were confirmed today. Lines stand
 * as on the order's page, struck ones left out. Undefined when there is no such order.
 */
export async function readOrderMoney(
  db: Database | Transaction,
  orderId: number,
  today: string,
): Promise<OrderMoney | undefined> {
  return (await readMoneyOfOrders(db, [orderId], today)).get(orderId);
}

/** The same for many orders, by their numbers: two statements, however many they are. */
export async function readMoneyOfOrders(
  db: Database | Transaction,
  orderIds: readonly number[],
  today: string,
): Promise<ReadonlyMap<number, OrderMoney>> {
  if (orderIds.length === 0) return new Map();
  const heads = await readHeads(db, orderIds);
  const lines = groupBy(await readLines(db, orderIds, today), ({ orderId }) => orderId);
  return new Map(
    heads.map(({ orderId, taxPpm, ...head }) => [
      orderId,
      priceOrder({
        ...head,
        shippingMinor: minorUnits(head.shippingMinor),
        shippingTaxPpm: head.shippingTaxPpm ?? taxPpm,
        lines: (lines.get(orderId) ?? []).map((line) => pricedLine(line, head.fixed ? null : taxPpm)),
      }),
    ]),
  );
}

const isFixed = sql<boolean>`${orders.pricedAt} is not null`;

async function readHeads(db: Database | Transaction, orderIds: readonly number[]) {
  return await db
    .select({
      orderId: orders.id,
      fixed: isFixed,
      priceListId: sql<
        number | null
      >`case when ${isFixed} then ${orders.priceListId} else ${listOfOrder} end`,
      currency: sql<string>`coalesce(${orders.currency}, ${workshop.currency})`,
      rounding: sql<"line" | "order">`coalesce(${orders.rounding}, ${workshop.rounding})`,
      pricesIncludeTax: sql<boolean>`coalesce(${orders.pricesIncludeTax}, (select ${priceLists.includesTax}
        from ${priceLists} where ${priceLists.id} = ${listOfOrder}), false)`,
      discountBasisPoints: orders.discountBasisPoints,
      shippingMinor: orders.shippingMinor,
      shippingTaxPpm: orders.shippingTaxPpm,
      taxPpm: taxOn(sql`${orders.shipBy}`),
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .innerJoin(workshop, sql`true`)
    .where(inArray(orders.id, [...orderIds]));
}

type ReadLine = Awaited<ReturnType<typeof readLines>>[number];

/** What is in force today is looked up only for orders whose prices are not fixed. */
async function readLines(db: Database | Transaction, orderIds: readonly number[], today: string) {
  const day = sql`${today}::date`;
  const productId = sql`${orderLines.productId}`;
  const unlessFixed = (price: SQL<number | null>) =>
    sql<string | null>`case when not ${isFixed} then ${price} end`;
  return await db
    .select({
      orderId: orderLines.orderId,
      productId: orderLines.productId,
      units: orderLines.units,
      unitPriceMinor: orderLines.unitPriceMinor,
      discountBasisPoints: orderLines.discountBasisPoints,
      taxPpm: sql<number>`coalesce(${orderLines.taxPpm}, 0)`,
      own: unlessFixed(ownPriceOn(productId, day)),
      list: unlessFixed(listPriceOn(listOfOrder, productId, day)),
    })
    .from(orderLines)
    .innerJoin(orders, eq(orders.id, orderLines.orderId))
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(and(inArray(orderLines.orderId, [...orderIds]), gt(orderLines.units, 0)))
    .orderBy(asc(orderLines.id));
}

/** @param taxPpmNow null: the tax of the line is fixed. */
function pricedLine({ own, list, ...line }: ReadLine, taxPpmNow: number | null): LineWithPrice {
  const { productId, units, unitPriceMinor, discountBasisPoints } = line;
  const rest = { productId, units, discountBasisPoints, taxPpm: taxPpmNow ?? line.taxPpm };
  if (unitPriceMinor !== null) return { ...rest, unitPriceMinor: minorUnits(unitPriceMinor), from: "agreed" };
  return { ...rest, ...(priceOf({ own, list }) ?? { unitPriceMinor: null, from: "none" }) };
}
