import { sql } from "drizzle-orm";
import { bigint, check, index, integer, pgTable, text, timestamp } from "drizzle-orm/pg-core";
import { deliveries } from "./deliveries.ts";
import { orderLines } from "./orders.ts";
import { people } from "./people.ts";
import { runs } from "./plans.ts";
import { products } from "./products.ts";

/** A run formed into one product, or pieces that were there before the first plan (no run). */
export const lots = pgTable(
  "lots",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** Short enough to say over the phone and to write on a tray with a marker. */
    code: text().notNull().unique(),
    productId: integer()
      .notNull()
      .references(() => products.id),
    runId: integer().references(() => runs.id),
    state: text({ enum: ["planned", "mixing", "drying", "resting", "ready", "withdrawn"] }).notNull(),
    /** Pieces the plan asked for; null for what was there before the first plan. */
    plannedUnits: integer(),
    /** Trays it lies on while drying and resting. */
    trays: integer().notNull(),
    createdAt: timestamp({ withTimezone: true }).notNull(),
    /** When pressing was finished; the drying hours count from here. */
    formedAt: timestamp({ withTimezone: true }),
    /** Earliest time it may leave the mold. */
    unmoldDueAt: timestamp({ withTimezone: true }),
    /** Earliest time it may be packed, as far as is known. */
    readyDueAt: timestamp({ withTimezone: true }),
    unmoldedAt: timestamp({ withTimezone: true }),
    readyAt: timestamp({ withTimezone: true }),
    /** Where on the shelf it stands, in the shop's own short words, such as "A3"; blank: nobody said. */
    shelfPlace: text().notNull().default(""),
  },
  (table) => [
    check(
      "lots_shelf_place",
      sql`${table.shelfPlace} = trim(${table.shelfPlace}) and length(${table.shelfPlace}) <= 12`,
    ),
    check("lots_code_form", sql`${table.code} ~ '^[A-Z0-9]{3,8}$'`),
    check(
      "lots_state_known",
      sql`${table.state} in ('planned', 'mixing', 'drying', 'resting', 'ready', 'withdrawn')`,
    ),
    check("lots_units", sql`${table.plannedUnits} is null or ${table.plannedUnits} between 1 and 100000`),
    check("lots_trays", sql`${table.trays} >= 0`),
    check("lots_planned_from_a_run", sql`(${table.plannedUnits} is null) = (${table.runId} is null)`),
    // A state and its times always agree, in both directions.
    check(
      "lots_formed_has_its_time",
      sql`(${table.state} in ('drying', 'resting', 'ready')) = (${table.formedAt} is not null)`,
    ),
    check(
      "lots_drying_has_its_times",
      sql`(${table.formedAt} is null) = (${table.unmoldDueAt} is null) and (${table.formedAt} is null) = (${table.readyDueAt} is null)`,
    ),
    check(
      "lots_unmolded_has_its_time",
      sql`(${table.state} in ('resting', 'ready')) = (${table.unmoldedAt} is not null)`,
    ),
    check("lots_ready_has_its_time", sql`(${table.state} = 'ready') = (${table.readyAt} is not null)`),
    // What is free to pack of a product, first ready first.
    index("lots_by_product_and_state").on(table.productId, table.state, table.readyAt, table.id),
    index("lots_by_run").on(table.runId),
  ],
);

/**
 * The ledger: every change in the number of pieces of a lot. A lot has the sum of its moves; never below
 * zero, and never changed after the fact: both guarded by triggers in the migrations.
 */
export const moves = pgTable(
  "moves",
  {
    id: bigint({ mode: "number" }).primaryKey().generatedAlwaysAsIdentity(),
    lotId: integer()
      .notNull()
      .references(() => lots.id),
    kind: text({ enum: ["made", "packed", "unpacked", "lost", "counted", "returned"] }).notNull(),
    /** Signed: what it adds to the lot. */
    units: integer().notNull(),
    /** Why pieces were lost. */
    cause: text({ enum: ["cracked", "stuck", "swollen", "sample"] }),
    /** Into or out of which order they were packed. */
    orderLineId: integer().references(() => orderLines.id),
    /** From which delivery they came back. */
    deliveryId: integer().references(() => deliveries.id),
    note: text().notNull().default(""),
    at: timestamp({ withTimezone: true }).notNull(),
    personId: integer().references(() => people.id),
  },
  (table) => [
    check(
      "moves_kind_known",
      sql`${table.kind} in ('made', 'packed', 'unpacked', 'lost', 'counted', 'returned')`,
    ),
    check(
      "moves_sign",
      // A return may be corrected by another one, downwards too; never below nothing, nor above what left (trigger).
      sql`case when ${table.kind} in ('made', 'unpacked') then ${table.units} > 0
        when ${table.kind} in ('packed', 'lost') then ${table.units} < 0 else ${table.units} <> 0 end`,
    ),
    check("moves_lost_has_its_cause", sql`(${table.kind} = 'lost') = (${table.cause} is not null)`),
    check("moves_cause_known", sql`${table.cause} in ('cracked', 'stuck', 'swollen', 'sample')`),
    check(
      "moves_packed_for_a_line",
      sql`(${table.kind} in ('packed', 'unpacked')) = (${table.orderLineId} is not null)`,
    ),
    check(
      "moves_returned_from_a_delivery",
      sql`(${table.kind} = 'returned') = (${table.deliveryId} is not null)`,
    ),
    // A lot's sum, and what is packed for a line, are read at every packing.
    index("moves_by_lot").on(table.lotId),
    index("moves_by_order_line").on(table.orderLineId, table.lotId),
    // What came home of a delivery is summed at every return.
    index("moves_by_delivery").on(table.deliveryId, table.lotId).where(sql`${table.deliveryId} is not null`),
  ],
);
