import { sql } from "drizzle-orm";
import {
  bigint,
  check,
  index,
  integer,
  pgTable,
  pgView,
  primaryKey,
  text,
  timestamp,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { lots } from "./lots.ts";
import { orderLines } from "./orders.ts";
import { people } from "./people.ts";

/** A lot that nothing is to be packed of until somebody has looked at it. */
export const lotHolds = pgTable(
  "lot_holds",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    lotId: integer()
      .notNull()
      .references(() => lots.id),
    reason: text().notNull(),
    putAt: timestamp({ withTimezone: true }).notNull(),
    putBy: integer().references(() => people.id),
    releasedAt: timestamp({ withTimezone: true }),
    releasedBy: integer().references(() => people.id),
    /** Why it may be packed after all. */
    releaseNote: text(),
  },
  (table) => [
    check("lot_holds_reason_given", sql`length(trim(${table.reason})) between 1 and 200`),
    check("lot_holds_release_says_why", sql`(${table.releasedAt} is null) = (${table.releaseNote} is null)`),
    check(
      "lot_holds_released_by_somebody",
      sql`${table.releasedBy} is null or ${table.releasedAt} is not null`,
    ),
    check("lot_holds_release_note_given", sql`length(trim(${table.releaseNote})) between 1 and 200`),
    // A lot is on hold once; asked of every lot whose pieces are counted on.
    uniqueIndex("lot_holds_one_open").on(table.lotId).where(sql`${table.releasedAt} is null`),
    // The history of one lot.
    index("lot_holds_by_lot").on(table.lotId, table.id),
  ],
);

/** Pieces of a lot that the owner keeps for one line of an order; less by what was packed of them (`kept_now`). */
export const keptPieces = pgTable(
  "kept_pieces",
  {
    lotId: integer()
      .notNull()
      .references(() => lots.id),
    orderLineId: integer()
      .notNull()
      .references(() => orderLines.id, { onDelete: "cascade" }),
    units: integer().notNull(),
    keptAt: timestamp({ withTimezone: true }).notNull(),
    keptBy: integer().references(() => people.id),
  },
  (table) => [
    primaryKey({ columns: [table.lotId, table.orderLineId] }),
    check("kept_pieces_units", sql`${table.units} between 1 and 100000`),
    // What is kept for a line is asked for whenever its order is shown.
    index("kept_pieces_by_order_line").on(table.orderLineId),
  ],
);

/**
 * Why nothing may be packed of a lot: a row for each reason that stands. A recalled lot of a supply stops every lot of the
 * batches it is in, whatever their state; what was wholly given back is in none.
 */
export const lotStops = pgView("lot_stops", {
  lotId: integer().notNull(),
  kind: text({ enum: ["held", "recalled"] }).notNull(),
  reason: text().notNull(),
  since: timestamp({ withTimezone: true }).notNull(),
  personId: integer(),
  recallId: integer(),
  /** The lot of a supply that is recalled, by its code. */
  supplyLotCode: text(),
}).as(sql`
  select lot_id, 'held' as kind, reason, put_at as since, put_by as person_id, null::integer as recall_id,
    null::text as supply_lot_code
  from lot_holds where released_at is null
  union all
  select lot_id, 'recalled', reason, begun_at, begun_by, id, null
  from recalls where ended_at is null and lot_id is not null
  union all
  select lots.id, 'recalled', recalls.reason, recalls.begun_at, recalls.begun_by, recalls.id, supply_lots.code
  from recalls
  join supply_lots on supply_lots.id = recalls.supply_lot_id
  cross join lateral (select run_id from supply_moves
    where supply_moves.lot_id = recalls.supply_lot_id and run_id is not null and kind in ('used', 'unused')
    group by run_id having sum(amount) <> 0) as used
  join lots on lots.run_id = used.run_id
  where recalls.ended_at is null and lots.state <> 'withdrawn'`);

/**
 * That what a move of packaging took for its order line is still here. Everything that stands packed for an order leaves
 * at once, so what was taken before its line left last is gone with it, and nothing is here of a line that left whole.
 */
const standsHere = sql.raw(`supply_moves.kind in ('used', 'unused')
    and supply_moves.at > coalesce((select max(deliveries.shipped_at) from delivery_lines
      join deliveries on deliveries.id = delivery_lines.delivery_id
      where delivery_lines.order_line_id = supply_moves.order_line_id), '-infinity')
    and exists (select from line_progress where line_progress.order_line_id = supply_moves.order_line_id
      and line_progress.packed_units > line_progress.shipped_units)`);

/** What of lots of packaging stands around packed pieces that have not left, a row for each lot and order line. */
export const packagingHere = pgView("packaging_here", {
  lotId: integer().notNull(),
  orderLineId: integer().notNull(),
  /** Pieces of packaging. */
  amount: bigint({ mode: "number" }).notNull(),
}).as(sql`
  select supply_moves.lot_id, supply_moves.order_line_id, (-sum(supply_moves.amount))::bigint as amount
  from supply_moves
  where supply_moves.order_line_id is not null and supply_moves.lot_id is not null and ${standsHere}
  group by supply_moves.lot_id, supply_moves.order_line_id having sum(supply_moves.amount) < 0`);

/**
 * The same of the lots that are recalled, with why: what is in it may not leave. It is asked for one order line at a time
 * and begins with the recalls, so that it reads no other lot's moves.
 */
export const packagingStops = pgView("packaging_stops", {
  orderLineId: integer().notNull(),
  recallId: integer().notNull(),
  supplyLotId: integer().notNull(),
  reason: text().notNull(),
  since: timestamp({ withTimezone: true }).notNull(),
  personId: integer(),
  amount: bigint({ mode: "number" }).notNull(),
}).as(sql`
  select supply_moves.order_line_id, recalls.id as recall_id, recalls.supply_lot_id, recalls.reason,
    recalls.begun_at as since, recalls.begun_by as person_id, (-sum(supply_moves.amount))::bigint as amount
  from recalls
  join supply_moves on supply_moves.lot_id = recalls.supply_lot_id
  where recalls.ended_at is null and supply_moves.order_line_id is not null and ${standsHere}
  group by recalls.id, supply_moves.order_line_id having sum(supply_moves.amount) < 0`);

/**
 * What of kept pieces is still to be packed for its line: never more than the line lacks. An order that is not confirmed,
 * is packed, gone or cancelled keeps nothing from others.
 */
export const keptNow = pgView("kept_now", {
  lotId: integer().notNull(),
  orderLineId: integer().notNull(),
  orderId: integer().notNull(),
  units: integer().notNull(),
}).as(sql`
  select lot_id, order_line_id, order_id, units from (
    select kept_pieces.lot_id, kept_pieces.order_line_id, order_lines.order_id,
      least(
        kept_pieces.units + coalesce((select sum(moves.units) from moves
          where moves.order_line_id = kept_pieces.order_line_id and moves.lot_id = kept_pieces.lot_id), 0),
        order_lines.units + coalesce((select sum(moves.units) from moves
          where moves.order_line_id = kept_pieces.order_line_id), 0))::integer as units
    from kept_pieces
    join order_lines on order_lines.id = kept_pieces.order_line_id
    join orders on orders.id = order_lines.order_id
    where orders.state in ('confirmed', 'packing')
  ) as kept where units > 0`);
