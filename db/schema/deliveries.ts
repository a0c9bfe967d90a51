import { sql } from "drizzle-orm";
import { check, index, integer, pgTable, text, timestamp } from "drizzle-orm/pg-core";
import { orders } from "./orders.ts";

/** What left the workshop for one order at one time. A whole order has one, part deliveries have several. */
export const deliveries = pgTable(
  "deliveries",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    orderId: integer()
      .notNull()
      .references(() => orders.id),
    how: text({ enum: ["parcel", "local-round", "collected", "market-crate"] }).notNull(),
    state: text({ enum: ["shipped", "delivered"] }).notNull(),
    shippedAt: timestamp({ withTimezone: true }).notNull(),
    deliveredAt: timestamp({ withTimezone: true }),
    /** Who took it at the door; blank: nobody said. */
    receivedBy: text().notNull().default(""),
  },
  (table) => [
    check(
      "deliveries_how_known",
      sql`${table.how} in ('parcel', 'local-round', 'collected', 'market-crate')`,
    ),
    check("deliveries_state_known", sql`${table.state} in ('shipped', 'delivered')`),
    check(
      "deliveries_delivered_has_its_time",
      sql`(${table.state} = 'delivered') = (${table.deliveredAt} is not null)`,
    ),
    check(
      "deliveries_received_when_delivered",
      sql`${table.receivedBy} = '' or ${table.state} = 'delivered'`,
    ),
    index("deliveries_by_order").on(table.orderId, table.id),
  ],
);
