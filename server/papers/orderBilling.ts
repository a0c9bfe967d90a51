import { and, asc, eq, gt, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { invoiceLines, invoices } from "../../db/schema/invoices.ts";
import { orders } from "../../db/schema/orders.ts";
import { products } from "../../db/schema/products.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { readOrderMoney } from "../prices/orderMoney.ts";
import type { BillableLine, BillableOrder } from "./invoiceContent.ts";
import type { InvoiceRefusal } from "./refusals.ts";

export type OrderToBill = NonNullable<Awaited<ReturnType<typeof readHead>>>;

/** An order with its money and how far it is billed. */
export interface OrderBilling extends BillableOrder {
  readonly order: OrderToBill;
  readonly currency: string;
  readonly discountBasisPoints: number;
}

/** What there is to bill of an order, by the prices that are fixed on it; or why it is not billed. */
export async function readOrderBilling(
  db: Database | Transaction,
  orderId: number,
  today: string,
): Promise<Result<OrderBilling, InvoiceRefusal>> {
  const order = await readHead(db, orderId);
  if (!order) return refuse({ why: "not-found" });
  if (order.terms === "market") return refuse({ why: "market" });
  if (order.state === "draft") return refuse({ why: "draft" });
  const progress = await readProgress(db, orderId);
  if (order.state === "cancelled" && progress.every(({ sentUnits }) => sentUnits === 0))
    return refuse({ why: "cancelled" });
  const money = await readOrderMoney(db, orderId, today);
  if (!money?.fixed) return refuse({ why: "no-prices" });
  if (money.unpriced > 0) return refuse({ why: "unpriced", lines: money.unpriced });
  const { pricesIncludeTax, currency, discountBasisPoints, shippingMinor, shippingTaxPpm } = money;
  const billsShipping = shippingMinor > 0 && !(await isShippingBilled(db, orderId));
  return ok({
    ...{ order, pricesIncludeTax, currency, discountBasisPoints },
    lines: money.lines.flatMap((line, place): readonly BillableLine[] => {
      const of = progress[place];
      if (!of || line.unitPriceMinor === null || line.amounts === null) return [];
      const { unitPriceMinor, taxPpm, amounts } = line;
      return [{ ...of, unitPriceMinor, discountBasisPoints: line.discountBasisPoints, taxPpm, amounts }];
    }),
    shipping: billsShipping ? { ...money.totals.shipping, taxPpm: shippingTaxPpm } : null,
  });
}

async function readHead(db: Database | Transaction, orderId: number) {
  const [order] = await db
    .select({
      id: orders.id,
      reference: orders.reference,
      state: orders.state,
      terms: orders.terms,
      customerReference: orders.customerReference,
      customerId: customers.id,
      customer: customers.name,
      address: customers.address,
      netDays: customers.netDays,
      earlyDiscountBasisPoints: customers.earlyDiscountBasisPoints,
      earlyDiscountDays: customers.earlyDiscountDays,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(eq(orders.id, orderId));
  return order;
}

/** Lines as the order's money has them, struck ones left out, each with what is sent and billed of it. */
async function readProgress(db: Database | Transaction, orderId: number) {
  return await db
    .select({
      orderLineId: lineProgress.orderLineId,
      product: products.name,
      orderedUnits: lineProgress.orderedUnits,
      sentUnits: lineProgress.shippedUnits,
      billedUnits: sql<number>`coalesce((select sum(case ${invoices.kind} when 'invoice' then ${invoiceLines.units}
          else -${invoiceLines.units} end)
        from ${invoiceLines} join ${invoices} on ${invoices.id} = ${invoiceLines.invoiceId}
        where ${invoiceLines.orderLineId} = ${lineProgress.orderLineId}
          and (${invoices.kind} = 'invoice' or ${invoices.billAgain})), 0)::integer`,
    })
    .from(lineProgress)
    .innerJoin(products, eq(products.id, lineProgress.productId))
    .where(and(eq(lineProgress.orderId, orderId), gt(lineProgress.orderedUnits, 0)))
    .orderBy(asc(lineProgress.orderLineId));
}

async function isShippingBilled(db: Database | Transaction, orderId: number): Promise<boolean> {
  const [sum] = await db
    .select({
      billed: sql<number>`coalesce(sum(case ${invoices.kind} when 'invoice' then 1 else -1 end), 0)::integer`,
    })
    .from(invoiceLines)
    .innerJoin(invoices, eq(invoices.id, invoiceLines.invoiceId))
    .where(
      and(
        eq(invoices.orderId, orderId),
        eq(invoiceLines.kind, "shipping"),
        sql`(${invoices.kind} = 'invoice' or ${invoices.billAgain})`,
      ),
    );
  return (sum?.billed ?? 0) > 0;
}
