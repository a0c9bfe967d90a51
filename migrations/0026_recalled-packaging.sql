-- Packaging that is recalled after something was packed in it: what has not left stays here until the recall ends. What a
-- use was only corrected by after a count is no use, so that a batch put back then is stopped by no recall of what it gave back.
DROP VIEW "public"."lot_stops";--> statement-breakpoint
CREATE VIEW "public"."packaging_here" AS (
  select supply_moves.lot_id, supply_moves.order_line_id, (-sum(supply_moves.amount))::bigint as amount
  from supply_moves
  where supply_moves.order_line_id is not null and supply_moves.lot_id is not null and supply_moves.kind in ('used', 'unused')
    and supply_moves.at > coalesce((select max(deliveries.shipped_at) from delivery_lines
      join deliveries on deliveries.id = delivery_lines.delivery_id
      where delivery_lines.order_line_id = supply_moves.order_line_id), '-infinity')
    and exists (select from line_progress where line_progress.order_line_id = supply_moves.order_line_id
      and line_progress.packed_units > line_progress.shipped_units)
  group by supply_moves.lot_id, supply_moves.order_line_id having sum(supply_moves.amount) < 0);--> statement-breakpoint
CREATE VIEW "public"."packaging_stops" AS (
  select supply_moves.order_line_id, recalls.id as recall_id, recalls.supply_lot_id, recalls.reason,
    recalls.begun_at as since, recalls.begun_by as person_id, (-sum(supply_moves.amount))::bigint as amount
  from recalls
  join supply_moves on supply_moves.lot_id = recalls.supply_lot_id
  where recalls.ended_at is null and supply_moves.order_line_id is not null and supply_moves.kind in ('used', 'unused')
    and supply_moves.at > coalesce((select max(deliveries.shipped_at) from delivery_lines
      join deliveries on deliveries.id = delivery_lines.delivery_id
      where delivery_lines.order_line_id = supply_moves.order_line_id), '-infinity')
    and exists (select from line_progress where line_progress.order_line_id = supply_moves.order_line_id
      and line_progress.packed_units > line_progress.shipped_units)
  group by recalls.id, supply_moves.order_line_id having sum(supply_moves.amount) < 0);--> statement-breakpoint
CREATE VIEW "public"."lot_stops" AS (
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
  where recalls.ended_at is null and lots.state <> 'withdrawn');--> statement-breakpoint
-- Nothing leaves of a lot that is stopped, nor in packaging that is recalled. Takes the lot after the order's line, as
-- packing does, and the packaging after the lot: a recall holds its row, so that of the two one waits for the other and
-- sees what it did.
CREATE OR REPLACE FUNCTION refuse_stopped_departure() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM FROM lots WHERE id = NEW.lot_id FOR UPDATE;
  IF EXISTS (SELECT FROM lot_stops WHERE lot_id = NEW.lot_id) THEN
    RAISE EXCEPTION 'nothing leaves of a lot that is stopped'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'delivery_lines_not_of_stopped_lots', TABLE = 'delivery_lines';
  END IF;
  PERFORM FROM supplies WHERE id IN (SELECT supply_id FROM supply_moves WHERE order_line_id = NEW.order_line_id)
    ORDER BY id FOR SHARE;
  IF EXISTS (SELECT FROM packaging_stops WHERE order_line_id = NEW.order_line_id) THEN
    RAISE EXCEPTION 'nothing leaves in packaging that is recalled'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'delivery_lines_not_in_recalled_packaging', TABLE = 'delivery_lines';
  END IF;
  RETURN NEW;
END $$;
