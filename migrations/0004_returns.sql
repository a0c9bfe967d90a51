-- What comes home from a market can be counted again: a return may be corrected downwards by another return.
ALTER TABLE "moves" DROP CONSTRAINT "moves_sign";--> statement-breakpoint
CREATE INDEX "moves_by_delivery" ON "moves" USING btree ("delivery_id","lot_id") WHERE "moves"."delivery_id" is not null;--> statement-breakpoint
ALTER TABLE "moves" ADD CONSTRAINT "moves_sign" CHECK (case when "moves"."kind" in ('made', 'unpacked') then "moves"."units" > 0
        when "moves"."kind" in ('packed', 'lost') then "moves"."units" < 0 else "moves"."units" <> 0 end);--> statement-breakpoint
-- Of a lot no more comes home from a delivery than left with it, and never less than nothing. Fires after moves_checked,
-- which holds the lot's row, so that two who count at once wait for each other.
CREATE FUNCTION check_return() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  came_home bigint;
  carried bigint;
BEGIN
  SELECT coalesce(sum(units), 0) INTO came_home
    FROM moves WHERE delivery_id = NEW.delivery_id AND lot_id = NEW.lot_id;
  SELECT coalesce(sum(units), 0) INTO carried
    FROM delivery_lines WHERE delivery_id = NEW.delivery_id AND lot_id = NEW.lot_id;
  IF came_home + NEW.units < 0 OR came_home + NEW.units > carried THEN
    RAISE EXCEPTION 'no more comes home than left, nor less than nothing'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'moves_never_more_home_than_left', TABLE = 'moves';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER moves_return_checked BEFORE INSERT ON "moves" FOR EACH ROW WHEN (NEW.delivery_id IS NOT NULL)
  EXECUTE FUNCTION check_return();
