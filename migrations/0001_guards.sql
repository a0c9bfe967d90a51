-- What no table constraint can say, written by hand: the last line against wrong states, whoever writes.

-- Two working sessions of one weekday never overlap. Weekday and minute are laid on one line of minutes.
ALTER TABLE "week_sessions" ADD CONSTRAINT "week_sessions_never_overlap" EXCLUDE USING gist (
  int4range("weekday" * 1440 + "starts_minute", "weekday" * 1440 + "ends_minute") WITH &&
);
--> statement-breakpoint
-- Two extra sessions of one date never overlap.
ALTER TABLE "calendar_exceptions" ADD CONSTRAINT "calendar_exceptions_never_overlap" EXCLUDE USING gist (
  int4range(("on_date" - DATE '2000-01-01') * 1440 + "starts_minute", ("on_date" - DATE '2000-01-01') * 1440 + "ends_minute") WITH &&
) WHERE ("kind" = 'extra');
--> statement-breakpoint
-- Ledgers are written once: a wrong move is answered by another move, a change by another change.
CREATE FUNCTION refuse_rewriting() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is a ledger: rows are never changed or removed', TG_TABLE_NAME
    USING ERRCODE = 'restrict_violation', CONSTRAINT = TG_TABLE_NAME || '_written_once';
END $$;
--> statement-breakpoint
CREATE TRIGGER moves_written_once BEFORE UPDATE OR DELETE ON "moves" FOR EACH ROW EXECUTE FUNCTION refuse_rewriting();
--> statement-breakpoint
CREATE TRIGGER changes_written_once BEFORE UPDATE OR DELETE ON "changes" FOR EACH ROW EXECUTE FUNCTION refuse_rewriting();
--> statement-breakpoint
CREATE TRIGGER delivery_lines_written_once BEFORE UPDATE OR DELETE ON "delivery_lines" FOR EACH ROW EXECUTE FUNCTION refuse_rewriting();
--> statement-breakpoint
-- A move locks its order line, then its lot (always in this order, so that two packers wait for each other
-- instead of deadlocking), and is refused when a sum would become impossible. Read committed is enough:
-- each statement after the lock sees what the other packer committed.
CREATE FUNCTION check_move() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  ordered integer;
  line_product integer;
  lot_product integer;
  lot_state text;
  packed_of_line bigint;
  packed_of_lot bigint;
  shipped_of_lot bigint;
  left_of_lot bigint;
BEGIN
  IF NEW.order_line_id IS NOT NULL THEN
    SELECT units, product_id INTO ordered, line_product FROM order_lines WHERE id = NEW.order_line_id FOR UPDATE;
  END IF;
  SELECT product_id, state INTO lot_product, lot_state FROM lots WHERE id = NEW.lot_id FOR UPDATE;

  IF NEW.order_line_id IS NOT NULL THEN
    IF lot_product <> line_product THEN
      RAISE EXCEPTION 'a lot can only be packed for a line of its own product'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'moves_product_agrees', TABLE = 'moves';
    END IF;
    IF lot_state <> 'ready' THEN
      RAISE EXCEPTION 'a lot is packed only when it is ready'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'moves_packed_when_ready', TABLE = 'moves';
    END IF;
    SELECT coalesce(-sum(units), 0), coalesce(-sum(units) FILTER (WHERE lot_id = NEW.lot_id), 0)
      INTO packed_of_line, packed_of_lot FROM moves WHERE order_line_id = NEW.order_line_id;
    IF packed_of_line - NEW.units > ordered THEN
      RAISE EXCEPTION 'more packed than ordered'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'moves_never_over_packed', TABLE = 'moves';
    END IF;
    SELECT coalesce(sum(units), 0) INTO shipped_of_lot
      FROM delivery_lines WHERE order_line_id = NEW.order_line_id AND lot_id = NEW.lot_id;
    IF packed_of_lot - NEW.units < shipped_of_lot THEN
      RAISE EXCEPTION 'what has left the workshop cannot be unpacked'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'moves_never_unpack_shipped', TABLE = 'moves';
    END IF;
  END IF;

  IF lot_state IN ('planned', 'withdrawn') THEN
    RAISE EXCEPTION 'a lot that has not been started has no pieces'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'moves_only_of_started_lots', TABLE = 'moves';
  END IF;
  SELECT coalesce(sum(units), 0) INTO left_of_lot FROM moves WHERE lot_id = NEW.lot_id;
  IF left_of_lot + NEW.units < 0 THEN
    RAISE EXCEPTION 'a lot never has fewer than no pieces'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'moves_never_below_zero', TABLE = 'moves';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER moves_checked BEFORE INSERT ON "moves" FOR EACH ROW EXECUTE FUNCTION check_move();
--> statement-breakpoint
-- Nothing is shipped that was not packed for the same line, and only for the delivery's own order.
CREATE FUNCTION check_delivery_line() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  line_order integer;
  delivery_order integer;
  packed bigint;
  shipped bigint;
BEGIN
  SELECT order_id INTO line_order FROM order_lines WHERE id = NEW.order_line_id FOR UPDATE;
  SELECT order_id INTO delivery_order FROM deliveries WHERE id = NEW.delivery_id;
  IF line_order <> delivery_order THEN
    RAISE EXCEPTION 'a delivery carries lines of its own order'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'delivery_lines_of_its_order', TABLE = 'delivery_lines';
  END IF;
  SELECT coalesce(-sum(units), 0) INTO packed
    FROM moves WHERE order_line_id = NEW.order_line_id AND lot_id = NEW.lot_id;
  SELECT coalesce(sum(units), 0) INTO shipped
    FROM delivery_lines WHERE order_line_id = NEW.order_line_id AND lot_id = NEW.lot_id;
  IF shipped + NEW.units > packed THEN
    RAISE EXCEPTION 'more shipped than packed'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'delivery_lines_never_over_shipped', TABLE = 'delivery_lines';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER delivery_lines_checked BEFORE INSERT ON "delivery_lines" FOR EACH ROW EXECUTE FUNCTION check_delivery_line();
--> statement-breakpoint
-- A line is never cut below what is packed for it, nor its product changed under packed pieces.
CREATE FUNCTION check_order_line() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  packed bigint;
BEGIN
  SELECT coalesce(-sum(units), 0) INTO packed FROM moves WHERE order_line_id = OLD.id;
  IF NEW.units < packed OR (packed > 0 AND NEW.product_id <> OLD.product_id) THEN
    RAISE EXCEPTION 'a line keeps what is packed for it'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'order_lines_keep_what_is_packed', TABLE = 'order_lines';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER order_lines_checked BEFORE UPDATE ON "order_lines" FOR EACH ROW EXECUTE FUNCTION check_order_line();
