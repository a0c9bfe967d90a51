import { sql } from "drizzle-orm";
import {
  check,
  date,
  index,
  integer,
  numeric,
  pgTable,
  text,
  timestamp,
  unique,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { customers } from "./customers.ts";
import { products } from "./products.ts";

/** What a customer wants by when. A market's order is the maker's own: what should be on the stall. */
export const orders = pgTable(
  "orders",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** The number both sides quote, such as "W-104". */
    reference: text().notNull().unique(),
    customerId: integer()
      .notNull()
      .references(() => customers.id),
    terms: text({ enum: ["complete", "as-ready", "market"] }).notNull(),
    /** Last date on which it may be packed and still be on time. */
    shipBy: date().notNull(),
    weight: numeric({ precision: 5, scale: 2, mode: "number" }).notNull(),
    state: text({
      enum: ["draft", "confirmed", "packing", "packed", "shipped", "delivered", "cancelled"],
    }).notNull(),
    note: text().notNull().default(""),
    createdAt: timestamp({ withTimezone: true }).notNull(),
    confirmedAt: timestamp({ withTimezone: true }),
    packedAt: timestamp({ withTimezone: true }),
    shippedAt: timestamp({ withTimezone: true }),
    deliveredAt: timestamp({ withTimezone: true }),
    cancelledAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    // "w-104" is W-104; also how an order is found by the number somebody typed.
    uniqueIndex("orders_reference_unique_in_any_case").on(sql`lower(${table.reference})`),
    check("orders_terms_known", sql`${table.terms} in ('complete', 'as-ready', 'market')`),
    check(
      "orders_state_known",
      sql`${table.state} in ('draft', 'confirmed', 'packing', 'packed', 'shipped', 'delivered', 'cancelled')`,
    ),
    check("orders_weight_range", sql`${table.weight} > 0 and ${table.weight} <= 100`),
    check("orders_reference_given", sql`length(trim(${table.reference})) between 1 and 40`),
    // A state and its time always agree, in both directions.
    check(
      "orders_confirmed_has_its_time",
      sql`case ${table.state} when 'draft' then ${table.confirmedAt} is null when 'cancelled' then true else ${table.confirmedAt} is not null end`,
    ),
    check(
      "orders_packed_has_its_time",
      sql`(${table.state} in ('packed', 'shipped', 'delivered')) = (${table.packedAt} is not null)`,
    ),
    check(
      "orders_shipped_has_its_time",
      sql`(${table.state} in ('shipped', 'delivered')) = (${table.shippedAt} is not null)`,
    ),
    check(
      "orders_delivered_has_its_time",
      sql`(${table.state} = 'delivered') = (${table.deliveredAt} is not null)`,
    ),
    check(
      "orders_cancelled_has_its_time",
      sql`(${table.state} = 'cancelled') = (${table.cancelledAt} is not null)`,
    ),
    // The lists by date of what is still to be done.
    index("orders_by_ship_by").on(table.state, table.shipBy, table.id),
    index("orders_by_customer").on(table.customerId, table.id),
  ],
);

/** So many pieces of one product. That no more is packed than ordered is guarded by a trigger in the migrations. */
export const orderLines = pgTable(
  "order_lines",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    orderId: integer()
      .notNull()
      .references(() => orders.id, { onDelete: "cascade" }),
    productId: integer()
      .notNull()
      .references(() => products.id),
    /** 0: struck from the order after pieces had been packed for it and taken out again; the ledger points at it. */
    units: integer().notNull(),
  },
  (table) => [
    unique("order_lines_product_once").on(table.orderId, table.productId),
    check("order_lines_units", sql`${table.units} between 0 and 100000`),
  ],
);
