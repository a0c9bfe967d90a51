import { eq, type SQL, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { listOfOrder, listPriceOn, ownPriceOn, taxOn } from "./inForce.ts";

/**
 * Fixes the prices of orders that are confirmed now: agreed prices stay, the others are those in force today; the tax
 * is that of the ship-by date. An order for which not one line has a price stays without. Called in the transaction
 * that confirms, after the orders are locked; many orders cost two statements.
 */
export async function fixPrices(
  transaction: Transaction,
  at: Date,
  orderIds: readonly number[],
): Promise<void> {
  const these = sql.join(
    orderIds.map((orderId) => sql`${orderId}::integer`),
    sql`, `,
  );
  if (orderIds.length > 0)
    await fixWhere(transaction, at, sql`${orders.id} in (${these}) and ${orders.pricedAt} is null`);
}

/**
 * After the content of an order with fixed prices was changed: new lines get the prices in force today, every line and
 * the shipping the tax of the ship-by date; prices that were fixed stay.
 */
export async function fixPricesOfNewLines(
  transaction: Transaction,
  at: Date,
  orderId: number,
): Promise<void> {
  await fixWhere(transaction, at, sql`${orders.id} = ${orderId} and ${orders.pricedAt} is not null`);
}

/** Takes away what was agreed or fixed with a customer who turned out to be another; discount and shipping become the new one's. */
export async function losePrices(transaction: Transaction, orderId: number): Promise<void> {
  await transaction
    .update(orderLines)
    .set({ unitPriceMinor: null, discountBasisPoints: 0, taxPpm: null })
    .where(eq(orderLines.orderId, orderId));
  await transaction.execute(sql`
    update ${orders} set priced_at = null, currency = null, prices_include_tax = null, rounding = null,
      shipping_tax_ppm = null, price_list_id = null,
      discount_basis_points = ${customers.orderDiscountBasisPoints}, shipping_minor = ${customers.shippingMinor}
    from ${customers} where ${customers.id} = ${orders.customerId} and ${orders.id} = ${orderId}`);
}

async function fixWhere(transaction: Transaction, at: Date, which: SQL): Promise<void> {
  // So that the currency cannot change between reading and writing amounts in it.
  await transaction.execute(sql`select from ${workshop} for share`);
  const instant = sql`${at.toISOString()}::timestamptz`;
  const today = sql`(${instant} at time zone ${workshop.timeZone})::date`;
  const productId = sql`${orderLines.productId}`;
  await transaction.execute(sql`
    update ${orderLines} set unit_price_minor = found.price, tax_ppm = found.tax
    from (select ${orderLines.id} as line_id, ${taxOn(sql`${orders.shipBy}`)} as tax,
        coalesce(${orderLines.unitPriceMinor}, ${ownPriceOn(productId, today)},
          ${listPriceOn(listOfOrder, productId, today)}) as price
      from ${orderLines} join ${orders} on ${orders.id} = ${orderLines.orderId}
        join ${customers} on ${customers.id} = ${orders.customerId} cross join ${workshop}
      where ${which}) as found
    where ${orderLines.id} = found.line_id and found.price is not null`);
  await transaction.execute(sql`
    update ${orders} set priced_at = coalesce(${orders.pricedAt}, ${instant}),
      price_list_id = found.price_list_id, shipping_tax_ppm = found.tax,
      currency = coalesce(${orders.currency}, found.currency),
      prices_include_tax = coalesce(${orders.pricesIncludeTax}, found.includes_tax),
      rounding = coalesce(${orders.rounding}, found.rounding)
    from (select ${orders.id} as order_id, ${taxOn(sql`${orders.shipBy}`)} as tax, ${listOfOrder} as price_list_id,
        ${workshop.currency} as currency, ${workshop.rounding} as rounding,
        coalesce((select ${priceLists.includesTax} from ${priceLists} where ${priceLists.id} = ${listOfOrder}), false)
          as includes_tax
      from ${orders} join ${customers} on ${customers.id} = ${orders.customerId} cross join ${workshop}
      where ${which} and exists (select from ${orderLines}
        where ${orderLines.orderId} = ${orders.id} and ${orderLines.unitPriceMinor} is not null)) as found
    where ${orders.id} = found.order_id`);
}
