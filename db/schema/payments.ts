import { sql } from "drizzle-orm";
import {
  type AnyPgColumn,
  check,
  date,
  index,
  integer,
  pgTable,
  pgView,
  text,
  timestamp,
  unique,
} from "drizzle-orm/pg-core";
import { invoices } from "./invoices.ts";
import { minorUnits } from "./money.ts";
import { people } from "./people.ts";

/**
 * What settled an invoice, in parts: money that came in, the discount for paying early, what was let off, and, downwards,
 * money that was paid back. A mistaken entry is taken back by a counter entry of the opposite amount. Written once.
 */
export const payments = pgTable(
  "payments",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    invoiceId: integer()
      .notNull()
      .references(() => invoices.id),
    kind: text({ enum: ["received", "early-discount", "let-off", "paid-back"] }).notNull(),
    amountMinor: minorUnits().notNull(),
    paidOn: date().notNull(),
    words: text().notNull().default(""),
    /** The entry that this one takes back. */
    takesBackId: integer().references((): AnyPgColumn => payments.id),
    at: timestamp({ withTimezone: true }).notNull(),
    personId: integer().references(() => people.id),
  },
  (table) => [
    check(
      "payments_kind_known",
      sql`${table.kind} in ('received', 'early-discount', 'let-off', 'paid-back')`,
    ),
    check(
      "payments_sign",
      sql`${table.amountMinor} <> 0
        and (${table.amountMinor} > 0) = ((${table.kind} <> 'paid-back') = (${table.takesBackId} is null))`,
    ),
    unique("payments_taken_back_once").on(table.takesBackId),
    index("payments_by_invoice").on(table.invoiceId, table.id),
  ],
);

/** How far each invoice is settled: billed, less credited, less settled, is open; below nothing it is the customer's. */
export const invoiceBalances = pgView("invoice_balances", {
  invoiceId: integer().notNull(),
  creditedMinor: minorUnits().notNull(),
  settledMinor: minorUnits().notNull(),
  openMinor: minorUnits().notNull(),
}).as(sql`
  select invoices.id as invoice_id, credited.minor as credited_minor, settled.minor as settled_minor,
    invoices.gross_minor - credited.minor - settled.minor as open_minor
  from invoices
    cross join lateral (select coalesce(sum(notes.gross_minor), 0)::bigint as minor
      from invoices as notes where notes.credits_id = invoices.id) as credited
    cross join lateral (select coalesce(sum(payments.amount_minor), 0)::bigint as minor
      from payments where payments.invoice_id = invoices.id) as settled
  where invoices.kind = 'invoice'`);
