import { sql } from "drizzle-orm";
import {
  type AnyPgColumn,
  boolean,
  check,
  date,
  index,
  integer,
  pgTable,
  smallint,
  text,
  timestamp,
  unique,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { customers } from "./customers.ts";
import { isShare, isTaxRate, isUnitPrice, minorUnits } from "./money.ts";
import { orderLines, orders } from "./orders.ts";
import { people } from "./people.ts";

/**
 * One row a year and kind: whoever writes an invoice holds its row until the invoice is there or undone, so that numbers
 * follow each other without a gap.
 */
export const invoiceYears = pgTable(
  "invoice_years",
  {
    kind: text({ enum: ["invoice", "credit-note"] }).notNull(),
    year: smallint().notNull(),
  },
  (table) => [unique("invoice_years_once").on(table.kind, table.year)],
);

/**
 * An invoice, or the credit note that corrects one. What it says is kept as it was written, whatever becomes of shop,
 * customer and order; triggers refuse to change or remove it. Its lines add up to its sums (trigger at the commit).
 */
export const invoices = pgTable(
  "invoices",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    kind: text({ enum: ["invoice", "credit-note"] }).notNull(),
    /** Of the issue date: each year and kind has numbers of its own. */
    year: smallint().notNull(),
    /** From 1, given by a trigger under the lock of the year: what is written here is passed over. */
    number: integer().notNull().default(0),
    orderId: integer()
      .notNull()
      .references(() => orders.id),
    customerId: integer()
      .notNull()
      .references(() => customers.id),
    /** The invoice that a credit note corrects. */
    creditsId: integer().references((): AnyPgColumn => invoices.id),
    /** Why it is credited, in the owner's words. */
    reason: text().notNull().default(""),
    /** Of a credit note: whether its pieces are to be billed anew, or stay credited (broken, returned, let off). */
    billAgain: boolean(),
    /** Of an invoice: the pieces that have left, or the whole order ahead. */
    basis: text({ enum: ["left", "whole"] }),
    issuedOn: date().notNull(),
    netDays: smallint(),
    dueOn: date(),
    /** What may be kept back by whoever pays until then; all three null where nothing was agreed. */
    earlyDiscountBasisPoints: integer(),
    earlyUntil: date(),
    earlyDiscountMinor: minorUnits(),
    /** The shop as its papers named it on that day. */
    sellerName: text().notNull(),
    sellerAddress: text().notNull(),
    sellerTaxNumber: text().notNull(),
    sellerBank: text().notNull(),
    paymentWords: text().notNull(),
    footer: text().notNull(),
    customerName: text().notNull(),
    customerAddress: text().notNull(),
    orderReference: text().notNull(),
    customerReference: text().notNull(),
    /** The dates on which pieces that are billed here left the workshop; none where they are billed ahead. */
    leftOn: date().array().notNull(),
    /** ISO 4217. */
    currency: text().notNull(),
    pricesIncludeTax: boolean().notNull(),
    /** The order's discount, of which each line carries its part. */
    discountBasisPoints: integer().notNull(),
    /** Sums of the lines: goods before the order's discount and without the shipping, stated as the prices are. */
    goodsMinor: minorUnits().notNull(),
    discountMinor: minorUnits().notNull(),
    netMinor: minorUnits().notNull(),
    taxMinor: minorUnits().notNull(),
    grossMinor: minorUnits().notNull(),
    createdAt: timestamp({ withTimezone: true }).notNull(),
    createdBy: integer().references(() => people.id),
  },
  (table) => [
    // Also how the number before is found.
    unique("invoices_numbered_once").on(table.kind, table.year, table.number),
    check("invoices_kind_known", sql`${table.kind} in ('invoice', 'credit-note')`),
    check("invoices_basis_known", sql`${table.basis} in ('left', 'whole')`),
    check("invoices_number_counted", sql`${table.number} > 0`),
    check("invoices_year_of_its_date", sql`${table.year} = extract(year from ${table.issuedOn})`),
    check(
      "invoices_kind_has_its_parts",
      sql`case ${table.kind} when 'invoice'
        then num_nulls(${table.basis}, ${table.netDays}, ${table.dueOn}) = 0
          and num_nonnulls(${table.creditsId}, ${table.billAgain}) = 0 and ${table.reason} = ''
        else num_nulls(${table.creditsId}, ${table.billAgain}) = 0 and length(trim(${table.reason})) > 0
          and num_nonnulls(${table.basis}, ${table.netDays}, ${table.dueOn}, ${table.earlyUntil}) = 0 end`,
    ),
    check("invoices_due_after_net_days", sql`${table.dueOn} = ${table.issuedOn} + ${table.netDays}::integer`),
    check(
      "invoices_early_discount",
      sql`num_nulls(${table.earlyDiscountBasisPoints}, ${table.earlyUntil}, ${table.earlyDiscountMinor}) in (0, 3)
        and ${isShare(table.earlyDiscountBasisPoints)} and ${table.earlyUntil} between ${table.issuedOn} and ${table.dueOn}
        and ${table.earlyDiscountMinor} between 0 and ${table.grossMinor}`,
    ),
    check("invoices_currency_form", sql`${table.currency} ~ '^[A-Z]{3}$'`),
    check(
      "invoices_amounts",
      sql`${table.netMinor} + ${table.taxMinor} = ${table.grossMinor} and ${table.grossMinor} >= 0`,
    ),
    index("invoices_by_order").on(table.orderId, table.id),
    index("invoices_by_customer").on(table.customerId, table.id),
    // The credit notes of an invoice.
    index("invoices_by_credited").on(table.creditsId).where(sql`${table.creditsId} is not null`),
  ],
);

/** A line as it was billed or credited; a credit's amounts are counted upwards too. Written once. */
export const invoiceLines = pgTable(
  "invoice_lines",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    invoiceId: integer()
      .notNull()
      .references(() => invoices.id),
    kind: text({ enum: ["goods", "shipping"] }).notNull(),
    /** Null for the shipping. */
    orderLineId: integer().references(() => orderLines.id),
    /** The line that a credit note's takes from. */
    creditsLineId: integer().references((): AnyPgColumn => invoiceLines.id),
    /** The product's name on that day. */
    what: text().notNull(),
    /** Pieces; 0: on the order and not billed here, so that the paper says so. Null for the shipping. */
    units: integer(),
    /** Of the order's line on that day: pieces ordered, and sent by then. Only of goods that are billed. */
    orderedUnits: integer(),
    sentUnits: integer(),
    unitPriceMinor: minorUnits().notNull(),
    discountBasisPoints: integer().notNull(),
    taxPpm: integer().notNull(),
    /** Before its part of the order's discount, stated as the prices are. */
    amountMinor: minorUnits().notNull(),
    orderDiscountMinor: minorUnits().notNull(),
    netMinor: minorUnits().notNull(),
    taxMinor: minorUnits().notNull(),
    grossMinor: minorUnits().notNull(),
  },
  (table) => [
    check("invoice_lines_kind_known", sql`${table.kind} in ('goods', 'shipping')`),
    check(
      "invoice_lines_goods_have_pieces",
      sql`(${table.kind} = 'goods') = (${table.orderLineId} is not null) and (${table.kind} = 'goods') = (${table.units} is not null)`,
    ),
    check("invoice_lines_units", sql`${table.units} between 0 and 100000`),
    check("invoice_lines_discount", isShare(table.discountBasisPoints)),
    check("invoice_lines_tax", isTaxRate(table.taxPpm)),
    check("invoice_lines_price", sql`${table.kind} = 'shipping' or ${isUnitPrice(table.unitPriceMinor)}`),
    check(
      "invoice_lines_amounts",
      sql`${table.netMinor} + ${table.taxMinor} = ${table.grossMinor} and ${table.grossMinor} >= 0 and ${table.amountMinor} >= 0`,
    ),
    index("invoice_lines_by_invoice").on(table.invoiceId, table.id),
    index("invoice_lines_by_order_line").on(table.orderLineId).where(sql`${table.orderLineId} is not null`),
    index("invoice_lines_by_credited").on(table.creditsLineId).where(sql`${table.creditsLineId} is not null`),
    uniqueIndex("invoice_lines_order_line_once")
      .on(table.invoiceId, table.orderLineId)
      .where(sql`${table.orderLineId} is not null`),
    uniqueIndex("invoice_lines_one_shipping").on(table.invoiceId).where(sql`${table.kind} = 'shipping'`),
  ],
);
