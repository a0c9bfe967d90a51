import { and, asc, eq, gt, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { minorUnits } from "../money/minorUnits.ts";
import { type OrderMoney, priceOrder } from "./priceOrder.ts";
import { quote } from "./quote.ts";

/**
 * The money of an order: as it was fixed at confirmation, or what it would be if it were confirmed today. Lines stand
 * as on the order's page, struck ones left out. Undefined when there is no such order.
 */
export async function readOrderMoney(
  db: Database | Transaction,
  orderId: number,
  today: string,
): Promise<OrderMoney | undefined> {
  const [order] = await db.select().from(orders).where(eq(orders.id, orderId));
  if (!order) return undefined;
  const rows = await db
    .select({
      productId: orderLines.productId,
      units: orderLines.units,
      unitPriceMinor: orderLines.unitPriceMinor,
      discountBasisPoints: orderLines.discountBasisPoints,
      taxPpm: sql<number>`coalesce(${orderLines.taxPpm}, 0)`,
    })
    .from(orderLines)
    .where(and(eq(orderLines.orderId, orderId), gt(orderLines.units, 0)))
    .orderBy(asc(orderLines.id));
  const lines = rows.map((row) => ({
    ...row,
    unitPriceMinor: row.unitPriceMinor === null ? null : minorUnits(row.unitPriceMinor),
  }));
  const shippingMinor = minorUnits(order.shippingMinor);
  const { currency, pricesIncludeTax, rounding, shippingTaxPpm } = order;
  if (currency === null || pricesIncludeTax === null || rounding === null || shippingTaxPpm === null)
    return quote(db, { ...order, shippingMinor, today, lines });
  return priceOrder({
    ...order,
    currency,
    pricesIncludeTax,
    rounding,
    shippingTaxPpm,
    shippingMinor,
    fixed: true,
    lines: lines.map((line) => ({
      ...line,
      from: line.unitPriceMinor === null ? ("none" as const) : ("agreed" as const),
    })),
  });
}
