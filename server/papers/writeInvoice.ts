import { eq, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { invoiceLines, invoices } from "../../db/schema/invoices.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { paperNumber } from "../../views/format/paperNumber.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrder } from "../packing/lockOrder.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import { workshopDay } from "../workshop/workshopDay.ts";
import { dueDates } from "./dueDates.ts";
import { type Basis, type InvoiceLine, invoiceContent, sumsOfLines } from "./invoiceContent.ts";
import { shownLetterhead } from "./letterhead.ts";
import { type OrderBilling, readOrderBilling } from "./orderBilling.ts";
import type { InvoiceRefusal } from "./refusals.ts";

/**
 * Bills an order: what has left and is not billed yet, or the whole of it ahead. The invoice gets the next number of the
 * year of today and says for good what it says now. The order is held, then the year: whoever bills at the same time
 * waits.
 */
export async function writeInvoice(
  transaction: Transaction,
  actor: Actor,
  { orderId, basis }: { readonly orderId: number; readonly basis: Basis },
): Promise<Result<{ readonly invoiceId: number }, InvoiceRefusal>> {
  if (!(await lockOrder(transaction, orderId))) return refuse({ why: "not-found" });
  // So that nobody makes other money of it meanwhile.
  await holdCurrency(transaction);
  const issuedOn = await workshopDay(transaction, actor.at);
  const billing = await readOrderBilling(transaction, orderId, issuedOn);
  if (!billing.ok) return billing;
  const lines = invoiceContent(billing.value, basis);
  if (lines.length === 0) return refuse({ why: "nothing-to-bill", basis });
  const invoice = await writeHead(transaction, actor, { billing: billing.value, basis, lines, issuedOn });
  await transaction.insert(invoiceLines).values(lines.map((line) => ({ ...line, invoiceId: invoice.id })));
  const { order } = billing.value;
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: order.id,
    what: "billed",
    after: { invoiceId: invoice.id, number: paperNumber(invoice), grossMinor: invoice.grossMinor },
  });
  return ok({ invoiceId: invoice.id });
}

interface NewInvoice {
  readonly billing: OrderBilling;
  readonly basis: Basis;
  readonly lines: readonly InvoiceLine[];
  readonly issuedOn: string;
}

async function writeHead(
  transaction: Transaction,
  actor: Actor,
  { billing, basis, lines, issuedOn }: NewInvoice,
) {
  const { order, currency, pricesIncludeTax, discountBasisPoints } = billing;
  const sums = sumsOfLines(lines);
  const { dueOn, early } = dueDates(issuedOn, order, sums.grossMinor);
  const [invoice] = await transaction
    .insert(invoices)
    .values({
      ...{
        kind: "invoice",
        year: Number(issuedOn.slice(0, 4)),
        orderId: order.id,
        customerId: order.customerId,
      },
      ...{ basis, issuedOn, netDays: order.netDays, dueOn },
      earlyDiscountBasisPoints: early?.basisPoints ?? null,
      earlyUntil: early?.until ?? null,
      earlyDiscountMinor: early?.discountMinor ?? null,
      ...(await sellerNow(transaction)),
      ...{ customerName: order.customer, customerAddress: order.address },
      ...{ orderReference: order.reference, customerReference: order.customerReference },
      leftOn: [...(await datesLeft(transaction, order.id, basis))],
      ...{ currency, pricesIncludeTax, discountBasisPoints, ...sums },
      ...{ createdAt: actor.at, createdBy: actor.personId },
    })
    .returning();
  if (!invoice) throw new Error("The new invoice's row did not come back");
  return invoice;
}

/** The shop as its papers name it now. */
export async function sellerNow(transaction: Transaction) {
  const { name, address, taxNumber, bank, paymentWords, footer } = await shownLetterhead(transaction);
  return {
    ...{ sellerName: name, sellerAddress: address, sellerTaxNumber: taxNumber, sellerBank: bank },
    ...{ paymentWords, footer },
  };
}

/** When the deliveries left that no standing invoice of the order billed before; none are billed ahead. */
async function datesLeft(
  transaction: Transaction,
  orderId: number,
  basis: Basis,
): Promise<readonly string[]> {
  if (basis === "whole") return [];
  const rows = await transaction.execute<{ left_on: string }>(sql`
    select distinct (deliveries.shipped_at at time zone ${workshop.timeZone})::date::text as left_on
    from deliveries cross join ${workshop}
    where deliveries.order_id = ${orderId} and deliveries.shipped_at > coalesce((
      select max(${invoices.createdAt}) from ${invoices} where ${eq(invoices.orderId, orderId)}
        and ${invoices.kind} = 'invoice' and not exists (select from invoices as notes
          where notes.credits_id = ${invoices.id} and notes.bill_again)), '-infinity')
    order by left_on`);
  return rows.map((row) => row.left_on);
}
