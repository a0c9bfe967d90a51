-- Sums of the ledgers, said once for every page and command that needs them.
CREATE VIEW "public"."line_progress" AS (
  select order_lines.id as order_line_id, order_lines.order_id, order_lines.product_id,
    order_lines.units as ordered_units,
    coalesce((select -sum(moves.units) from moves where moves.order_line_id = order_lines.id
      and moves.kind in ('packed', 'unpacked')), 0)::integer as packed_units,
    coalesce((select sum(delivery_lines.units) from delivery_lines
      where delivery_lines.order_line_id = order_lines.id), 0)::integer as shipped_units
  from order_lines);--> statement-breakpoint
CREATE VIEW "public"."lot_balances" AS (
  select lots.id as lot_id, coalesce(sum(moves.units), 0)::integer as units
  from lots left join moves on moves.lot_id = lots.id
  group by lots.id);