import { sql } from "drizzle-orm";
import { check, index, integer, pgTable, text, timestamp, uniqueIndex } from "drizzle-orm/pg-core";
import { deliveries } from "./deliveries.ts";
import { isCharge, minorUnits } from "./money.ts";

/** Who carries parcels for the shop, under the name the shop has for them. */
export const carriers = pgTable(
  "carriers",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    name: text().notNull(),
    /** What they offer, in the shop's own words and order; empty: nothing to choose from. */
    services: text().array().notNull().default([]),
    /** Where a parcel is followed: an https address with {number} in place of its number; blank: nowhere. */
    trackingPattern: text().notNull().default(""),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    uniqueIndex("carriers_name_unique").on(sql`lower(${table.name})`),
    check("carriers_name_given", sql`length(trim(${table.name})) between 1 and 80`),
    // Nothing but a page on the web can ever be behind the link.
    check(
      "carriers_tracking_form",
      sql`${table.trackingPattern} = '' or (${table.trackingPattern} like 'https://%' and position('{number}' in ${table.trackingPattern}) > 0)`,
    ),
  ],
);

/** One parcel of a delivery. What is not known yet is blank: its number and cost often come when it has left. */
export const parcels = pgTable(
  "parcels",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    deliveryId: integer()
      .notNull()
      .references(() => deliveries.id),
    /** Null: nobody said. */
    carrierId: integer().references(() => carriers.id),
    /** As the carrier's service was called when it was sent. */
    service: text().notNull().default(""),
    /** What it weighs as it goes. */
    grams: integer(),
    tracking: text().notNull().default(""),
    /** What sending it cost; null: not known. */
    costMinor: minorUnits(),
  },
  (table) => [
    check("parcels_service_of_a_carrier", sql`${table.service} = '' or ${table.carrierId} is not null`),
    check("parcels_grams", sql`${table.grams} between 1 and 1000000`),
    check("parcels_cost", isCharge(table.costMinor)),
    check(
      "parcels_something_known",
      sql`num_nonnulls(${table.carrierId}, ${table.grams}, ${table.costMinor}) > 0 or ${table.tracking} <> ''`,
    ),
    index("parcels_by_delivery").on(table.deliveryId, table.id),
    index("parcels_by_carrier").on(table.carrierId),
  ],
);
