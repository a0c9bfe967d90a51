-- What no table constraint can say of prices and standing orders, written by hand.

-- Two pauses of one standing order never overlap. Its number stands in the constraint as a range of one, which needs no
-- extension; a pause without a last date goes on for good.
ALTER TABLE "standing_order_pauses" ADD CONSTRAINT "standing_order_pauses_never_overlap" EXCLUDE USING gist (
  int4range("standing_order_id", "standing_order_id", '[]') WITH &&,
  daterange("first_date", "last_date", '[]') WITH &&
);
--> statement-breakpoint
-- An order keeps the money it was confirmed in: its currency, whether the tax is in its prices, and how they are rounded.
-- Read otherwise, the same whole numbers would be another sum. To be priced anew it first loses its prices.
CREATE FUNCTION keep_order_money() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF OLD.priced_at IS NOT NULL AND NEW.priced_at IS NOT NULL AND (NEW.currency, NEW.prices_include_tax, NEW.rounding)
    IS DISTINCT FROM (OLD.currency, OLD.prices_include_tax, OLD.rounding) THEN
    RAISE EXCEPTION 'an order keeps the money it was confirmed in'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'orders_keep_their_money', TABLE = 'orders';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER orders_keep_their_money BEFORE UPDATE ON "orders" FOR EACH ROW EXECUTE FUNCTION keep_order_money();
--> statement-breakpoint
-- The currency stays once there is an amount in it, and a list goes on stating its prices as they were entered. A writer
-- of amounts holds the workshop's (or the list's) row for share, so that neither slips past the other.
CREATE FUNCTION keep_currency() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.currency <> OLD.currency AND (
    EXISTS (SELECT FROM list_prices WHERE unit_price_minor IS NOT NULL)
    OR EXISTS (SELECT FROM own_prices WHERE unit_price_minor IS NOT NULL)
    OR EXISTS (SELECT FROM order_lines WHERE unit_price_minor IS NOT NULL)
    OR EXISTS (SELECT FROM orders WHERE shipping_minor > 0)
    OR EXISTS (SELECT FROM customers WHERE shipping_minor > 0 OR least_order_minor IS NOT NULL)
    OR EXISTS (SELECT FROM products WHERE making_cost_minor IS NOT NULL)
    OR EXISTS (SELECT FROM markets WHERE fee_minor > 0)
    OR EXISTS (SELECT FROM market_habits WHERE fee_minor > 0)
  ) THEN
    RAISE EXCEPTION 'there are amounts in the workshop''s currency'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'workshop_keeps_its_currency', TABLE = 'workshop';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER workshop_keeps_its_currency BEFORE UPDATE ON "workshop" FOR EACH ROW EXECUTE FUNCTION keep_currency();
--> statement-breakpoint
CREATE FUNCTION keep_price_list_meaning() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.includes_tax <> OLD.includes_tax AND EXISTS (SELECT FROM list_prices WHERE price_list_id = OLD.id) THEN
    RAISE EXCEPTION 'a list with prices goes on stating them as they were entered'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'price_lists_keep_their_meaning', TABLE = 'price_lists';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER price_lists_keep_their_meaning BEFORE UPDATE ON "price_lists" FOR EACH ROW EXECUTE FUNCTION keep_price_list_meaning();
