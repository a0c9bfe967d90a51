import { and, asc, desc, eq, getTableColumns, gt, lt, or, type SQL, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { invoiceLines, invoices } from "../../db/schema/invoices.ts";
import { invoiceBalances, payments } from "../../db/schema/payments.ts";
import { people } from "../../db/schema/people.ts";
import { minorUnits } from "../money/minorUnits.ts";
import type { InvoicesAsked } from "./forms.ts";

/** Invoices on one page of the list. */
export const INVOICES_A_PAGE = 50;

/** One invoice or credit note as it was written, with its lines. */
export async function findInvoice(db: Database, invoiceId: number) {
  const [invoice] = await db.select().from(invoices).where(eq(invoices.id, invoiceId));
  if (!invoice) return undefined;
  const lines = await db
    .select()
    .from(invoiceLines)
    .where(eq(invoiceLines.invoiceId, invoiceId))
    .orderBy(asc(invoiceLines.id));
  return { ...invoice, lines };
}

export type FoundInvoice = NonNullable<Awaited<ReturnType<typeof findInvoice>>>;

/** How far an invoice is settled, by what, and what corrects it. */
export async function readSettling(db: Database, invoiceId: number) {
  const [balance] = await db.select().from(invoiceBalances).where(eq(invoiceBalances.invoiceId, invoiceId));
  const entries = await db
    .select({
      ...getTableColumns(payments),
      person: people.name,
      takenBack: sql<boolean>`exists (select from payments as counter
        where counter.takes_back_id = ${sql`${payments}.id`})`,
    })
    .from(payments)
    .leftJoin(people, eq(people.id, payments.personId))
    .where(eq(payments.invoiceId, invoiceId))
    .orderBy(asc(payments.id));
  const credits = await db
    .select(named)
    .from(invoices)
    .where(eq(invoices.creditsId, invoiceId))
    .orderBy(asc(invoices.id));
  return { balance: balance ?? null, entries, credits };
}

const named = {
  id: invoices.id,
  kind: invoices.kind,
  year: invoices.year,
  number: invoices.number,
  issuedOn: invoices.issuedOn,
  currency: invoices.currency,
  grossMinor: invoices.grossMinor,
};

const listed = {
  ...named,
  customerId: invoices.customerId,
  customerName: invoices.customerName,
  orderId: invoices.orderId,
  orderReference: invoices.orderReference,
  dueOn: invoices.dueOn,
  /** Null for a credit note. */
  openMinor: invoiceBalances.openMinor,
};

/** Those asked for on a day: what is open or overdue by due date, everything with the newest first. */
export async function listInvoices(db: Database, { show, q, page }: InvoicesAsked, today: string) {
  const found = and(
    sql`position(lower(${q}) in lower(${invoices.customerName} || ' ' || ${invoices.orderReference} || ' '
      || case ${invoices.kind} when 'credit-note' then 'C' else '' end || ${invoices.year} || '-'
      || lpad(${invoices.number}::text, greatest(4, length(${invoices.number}::text)), '0'))) > 0`,
    asked(show, today),
  );
  const order =
    show === "all" ? [desc(invoices.issuedOn), desc(invoices.id)] : [asc(invoices.dueOn), asc(invoices.id)];
  const rows = await db
    .select(listed)
    .from(invoices)
    .leftJoin(invoiceBalances, eq(invoiceBalances.invoiceId, invoices.id))
    .where(found)
    .orderBy(...order)
    .limit(INVOICES_A_PAGE + 1)
    .offset((page - 1) * INVOICES_A_PAGE);
  return { rows: rows.slice(0, INVOICES_A_PAGE), more: rows.length > INVOICES_A_PAGE };
}

function asked(show: InvoicesAsked["show"], today: string): SQL | undefined {
  if (show === "all") return undefined;
  if (show === "overdue") return and(gt(invoiceBalances.openMinor, 0), lt(invoices.dueOn, today));
  // What is in a customer's favour waits for somebody, too.
  return or(gt(invoiceBalances.openMinor, 0), lt(invoiceBalances.openMinor, 0));
}

/** What the list opens with. */
export async function summariseInvoices(db: Database, today: string) {
  const open = sql`${invoiceBalances.openMinor}`;
  const late = sql`${open} > 0 and ${invoices.dueOn} < ${today}`;
  const [sums] = await db
    .select({
      all: sql<number>`count(*)::integer`,
      open: sql<number>`(count(*) filter (where ${open} > 0))::integer`,
      openMinor: sql<string>`coalesce(sum(${open}) filter (where ${open} > 0), 0)`,
      overdue: sql<number>`(count(*) filter (where ${late}))::integer`,
      overdueMinor: sql<string>`coalesce(sum(${open}) filter (where ${late}), 0)`,
    })
    .from(invoices)
    .innerJoin(invoiceBalances, eq(invoiceBalances.invoiceId, invoices.id));
  if (!sums) throw new Error("The sums of the invoices could not be read");
  const { openMinor, overdueMinor, ...counts } = sums;
  return {
    ...counts,
    openMinor: minorUnits(BigInt(openMinor)),
    overdueMinor: minorUnits(BigInt(overdueMinor)),
  };
}

/** What was billed and credited of an order, in the order of writing. */
export async function listInvoicesOfOrder(db: Database, orderId: number) {
  return await db
    .select(listed)
    .from(invoices)
    .leftJoin(invoiceBalances, eq(invoiceBalances.invoiceId, invoices.id))
    .where(eq(invoices.orderId, orderId))
    .orderBy(asc(invoices.id));
}

/** Invoices of one customer that are not settled, the earliest due first, with what was done to each. */
export async function readStatement(db: Database, customerId: number) {
  const [customer] = await db
    .select({ id: customers.id, name: customers.name, kind: customers.kind, address: customers.address })
    .from(customers)
    .where(eq(customers.id, customerId));
  if (!customer) return undefined;
  const rows = await db
    .select({
      ...listed,
      creditedMinor: invoiceBalances.creditedMinor,
      settledMinor: invoiceBalances.settledMinor,
      openMinor: invoiceBalances.openMinor,
    })
    .from(invoices)
    .innerJoin(invoiceBalances, eq(invoiceBalances.invoiceId, invoices.id))
    .where(and(eq(invoices.customerId, customerId), sql`${invoiceBalances.openMinor} <> 0`))
    .orderBy(asc(invoices.dueOn), asc(invoices.id));
  return {
    customer,
    invoices: rows.map(({ dueOn, openMinor, ...row }) => ({
      ...row,
      // An invoice always has its due date.
      dueOn: dueOn ?? row.issuedOn,
      openMinor: minorUnits(openMinor),
    })),
  };
}

export type Statement = NonNullable<Awaited<ReturnType<typeof readStatement>>>;
