import { sql } from "drizzle-orm";
import { check, index, integer, pgTable } from "drizzle-orm/pg-core";
import { deliveries } from "./deliveries.ts";
import { lots } from "./lots.ts";
import { orderLines } from "./orders.ts";

/** Which pieces of which lot a delivery carries. Never more than was packed of that lot for that line (trigger). */
export const deliveryLines = pgTable(
  "delivery_lines",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    deliveryId: integer()
      .notNull()
      .references(() => deliveries.id),
    orderLineId: integer()
      .notNull()
      .references(() => orderLines.id),
    lotId: integer()
      .notNull()
      .references(() => lots.id),
    units: integer().notNull(),
  },
  (table) => [
    check("delivery_lines_units", sql`${table.units} > 0`),
    index("delivery_lines_by_delivery").on(table.deliveryId, table.id),
    index("delivery_lines_by_order_line").on(table.orderLineId, table.lotId),
    index("delivery_lines_by_lot").on(table.lotId),
  ],
);
