import { sql } from "drizzle-orm";
import { check, date, index, integer, pgTable, primaryKey, timestamp } from "drizzle-orm/pg-core";
import { orders } from "./orders.ts";
import { products } from "./products.ts";

/**
 * What a customer was told: written when an order is confirmed, and again whenever its date or its pieces change after
 * that. Never rewritten, so that a date which was moved is still known.
 */
export const orderPromises = pgTable(
  "order_promises",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    orderId: integer()
      .notNull()
      .references(() => orders.id),
    madeAt: timestamp({ withTimezone: true }).notNull(),
    shipBy: date().notNull(),
  },
  (table) => [index("order_promises_by_order").on(table.orderId, table.id)],
);

/** The pieces of a promise. */
export const orderPromiseLines = pgTable(
  "order_promise_lines",
  {
    promiseId: integer()
      .notNull()
      .references(() => orderPromises.id),
    productId: integer()
      .notNull()
      .references(() => products.id),
    units: integer().notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.promiseId, table.productId] }),
    check("order_promise_lines_units", sql`${table.units} > 0`),
    index("order_promise_lines_by_product").on(table.productId),
  ],
);
