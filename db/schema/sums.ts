import { sql } from "drizzle-orm";
import { integer, pgView } from "drizzle-orm/pg-core";

/**
 * Pieces of each lot there are now: the sum of its moves; zero for a lot that has none yet. A sum a lot, not a grouping
 * of all moves: whoever asks for some lots then reads the moves of these alone, and not the ledger of years.
 */
export const lotBalances = pgView("lot_balances", {
  lotId: integer().notNull(),
  units: integer().notNull(),
}).as(sql`
  select lots.id as lot_id,
    coalesce((select sum(moves.units) from moves where moves.lot_id = lots.id), 0)::integer as units
  from lots`);

/** How far each order line is: ordered, of these packed, of these shipped. */
export const lineProgress = pgView("line_progress", {
  orderLineId: integer().notNull(),
  orderId: integer().notNull(),
  productId: integer().notNull(),
  orderedUnits: integer().notNull(),
  packedUnits: integer().notNull(),
  shippedUnits: integer().notNull(),
}).as(sql`
  select order_lines.id as order_line_id, order_lines.order_id, order_lines.product_id,
    order_lines.units as ordered_units,
    coalesce((select -sum(moves.units) from moves where moves.order_line_id = order_lines.id
      and moves.kind in ('packed', 'unpacked')), 0)::integer as packed_units,
    coalesce((select sum(delivery_lines.units) from delivery_lines
      where delivery_lines.order_line_id = order_lines.id), 0)::integer as shipped_units
  from order_lines`);
