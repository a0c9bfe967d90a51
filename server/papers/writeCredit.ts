import { and, asc, eq, getTableColumns, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { invoiceLines, invoices } from "../../db/schema/invoices.ts";
import { paperNumber } from "../../views/format/paperNumber.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { minorUnits } from "../money/minorUnits.ts";
import { workshopDay } from "../workshop/workshopDay.ts";
import { type CreditableLine, creditAmounts, unitsToCredit } from "./creditContent.ts";
import type { CreditForm } from "./forms.ts";
import { sumsOfLines } from "./invoiceContent.ts";
import type { CreditRefusal } from "./refusals.ts";
import { sellerNow } from "./writeInvoice.ts";

type Invoice = typeof invoices.$inferSelect;
type CreditLine = Awaited<ReturnType<typeof readCreditableLines>>[number];

/**
 * Corrects an invoice by a credit note of its own number: for the lines and pieces asked for, never more than is left of
 * what was billed. The invoice is held until it is written, so that two who credit at once wait for each other.
 */
export async function writeCredit(
  transaction: Transaction,
  actor: Actor,
  { invoiceId, reason, billAgain, takes }: CreditForm & { readonly invoiceId: number },
): Promise<Result<{ readonly invoiceId: number }, CreditRefusal>> {
  const [invoice] = await transaction.select().from(invoices).where(eq(invoices.id, invoiceId)).for("update");
  if (invoice?.kind !== "invoice") return refuse({ why: "not-found" });
  const taken = takeLines(await readCreditableLines(transaction, invoiceId), takes, invoice.pricesIncludeTax);
  if (!taken.ok) return taken;
  const credit = await writeHead(transaction, actor, invoice, { reason, billAgain, lines: taken.value });
  await transaction
    .insert(invoiceLines)
    .values(taken.value.map((line) => ({ ...line, invoiceId: credit.id })));
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: invoice.orderId,
    what: "credited",
    after: {
      ...{ invoiceId: credit.id, number: paperNumber(credit), corrects: paperNumber(invoice) },
      ...{ grossMinor: credit.grossMinor, billAgain },
    },
  });
  return ok({ invoiceId: credit.id });
}

/** The lines of an invoice that can be credited, with what is credited of them so far; those with nothing billed left out. */
export async function readCreditableLines(db: Database | Transaction, invoiceId: number) {
  const rows = await db
    .select({
      ...getTableColumns(invoiceLines),
      creditedUnits: sql<number>`(select coalesce(sum(taken.units), 0) from invoice_lines as taken
        where taken.credits_line_id = ${sql`${invoiceLines}.id`})::integer`,
      shippingCredited: sql<boolean>`exists (select from invoice_lines as taken
        where taken.credits_line_id = ${sql`${invoiceLines}.id`} and taken.kind = 'shipping')`,
    })
    .from(invoiceLines)
    .where(and(eq(invoiceLines.invoiceId, invoiceId), sql`${invoiceLines.units} is distinct from 0`))
    .orderBy(asc(invoiceLines.id));
  return rows.map(({ amountMinor, orderDiscountMinor, netMinor, taxMinor, grossMinor, ...row }) => ({
    ...row,
    lineId: row.id,
    amounts: {
      ...{ amountMinor: minorUnits(amountMinor), orderDiscountMinor: minorUnits(orderDiscountMinor) },
      ...{
        netMinor: minorUnits(netMinor),
        taxMinor: minorUnits(taxMinor),
        grossMinor: minorUnits(grossMinor),
      },
    },
  })) satisfies readonly CreditableLine[];
}

/** The lines of the credit note; or which of those asked for cannot be had. */
function takeLines(lines: readonly CreditLine[], takes: CreditForm["takes"], pricesIncludeTax: boolean) {
  if (takes.length === 0) return refuse({ why: "nothing-credited" } as const);
  const credited = [];
  const seen = new Set<number>();
  for (const { lineId, units, place } of takes) {
    const line = lines.find((known) => known.lineId === lineId);
    if (!line || seen.has(lineId)) return refuse({ why: "line-unknown", place } as const);
    seen.add(lineId);
    const left = unitsToCredit(line);
    const shipping = line.kind === "shipping";
    if (units > left) return refuse({ why: "more-than-billed", place, left, shipping } as const);
    const { kind, orderLineId, what, unitPriceMinor, discountBasisPoints, taxPpm } = line;
    credited.push({
      ...{ kind, orderLineId, creditsLineId: lineId, what, units: shipping ? null : units },
      ...{ unitPriceMinor, discountBasisPoints, taxPpm, ...creditAmounts(line, units, pricesIncludeTax) },
    });
  }
  return ok(credited);
}

interface NewCredit extends Pick<CreditForm, "reason" | "billAgain"> {
  readonly lines: Parameters<typeof sumsOfLines>[0];
}

async function writeHead(
  transaction: Transaction,
  actor: Actor,
  invoice: Invoice,
  { reason, billAgain, lines }: NewCredit,
): Promise<Invoice> {
  const issuedOn = await workshopDay(transaction, actor.at);
  const { orderId, customerId, customerName, customerAddress, orderReference, customerReference } = invoice;
  const { currency, pricesIncludeTax, discountBasisPoints } = invoice;
  const [credit] = await transaction
    .insert(invoices)
    .values({
      ...{
        kind: "credit-note",
        year: Number(issuedOn.slice(0, 4)),
        creditsId: invoice.id,
        reason,
        billAgain,
      },
      ...{ orderId, customerId, customerName, customerAddress, orderReference, customerReference },
      ...{ issuedOn, leftOn: [], currency, pricesIncludeTax, discountBasisPoints },
      ...(await sellerNow(transaction)),
      ...sumsOfLines(lines),
      ...{ createdAt: actor.at, createdBy: actor.personId },
    })
    .returning();
  if (!credit) throw new Error("The new credit note's row did not come back");
  return credit;
}
