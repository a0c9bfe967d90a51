-- What is bought: suppliers and their packs, purchases on their way, lots with an append-only ledger, and what pieces
-- are packed with.
CREATE TABLE "purchases" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "purchases_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"supply_id" integer NOT NULL,
	"supplier_id" integer NOT NULL,
	"amount" bigint NOT NULL,
	"price_minor" bigint,
	"ordered_on" date NOT NULL,
	"due_on" date NOT NULL,
	"ordered_by" integer,
	"state" text NOT NULL,
	CONSTRAINT "purchases_amount" CHECK ("purchases"."amount" between 1 and 1000000000000),
	CONSTRAINT "purchases_price" CHECK ("purchases"."price_minor" between 0 and 1000000000),
	CONSTRAINT "purchases_state_known" CHECK ("purchases"."state" in ('open', 'received', 'called-off')),
	CONSTRAINT "purchases_due_later" CHECK ("purchases"."due_on" >= "purchases"."ordered_on")
);
--> statement-breakpoint
CREATE TABLE "suppliers" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "suppliers_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"name" text NOT NULL,
	"delivery_days" integer NOT NULL,
	"order_weekdays" integer[] DEFAULT '{}' NOT NULL,
	"contact" text DEFAULT '' NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "suppliers_name_given" CHECK (length(trim("suppliers"."name")) between 1 and 120),
	CONSTRAINT "suppliers_delivery_days" CHECK ("suppliers"."delivery_days" between 0 and 365),
	CONSTRAINT "suppliers_weekdays" CHECK ("suppliers"."order_weekdays" <@ array[1, 2, 3, 4, 5, 6, 7])
);
--> statement-breakpoint
CREATE TABLE "supply_packs" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "supply_packs_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"supply_id" integer NOT NULL,
	"supplier_id" integer NOT NULL,
	"amount" bigint NOT NULL,
	"thousandths" integer NOT NULL,
	"unit" text NOT NULL,
	"price_minor" bigint,
	"least_packs" integer DEFAULT 1 NOT NULL,
	"code" text DEFAULT '' NOT NULL,
	"usual" boolean DEFAULT false NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "supply_packs_amount" CHECK ("supply_packs"."amount" between 1 and 1000000000000),
	CONSTRAINT "supply_packs_written" CHECK ("supply_packs"."thousandths" > 0),
	CONSTRAINT "supply_packs_unit_known" CHECK ("supply_packs"."unit" in ('g', 'kg', 'oz', 'lb', 'ml', 'fl-oz-us', 'fl-oz-imperial', 'tsp', 'piece')),
	CONSTRAINT "supply_packs_price" CHECK ("supply_packs"."price_minor" between 0 and 1000000000),
	CONSTRAINT "supply_packs_least" CHECK ("supply_packs"."least_packs" between 1 and 10000),
	CONSTRAINT "supply_packs_usual_is_in_use" CHECK (not ("supply_packs"."usual" and "supply_packs"."retired_at" is not null))
);
--> statement-breakpoint
CREATE TABLE "packing_parts" (
	"product_id" integer NOT NULL,
	"supply_id" integer NOT NULL,
	"amount" integer NOT NULL,
	"for_pieces" integer DEFAULT 1 NOT NULL,
	CONSTRAINT "packing_parts_product_id_supply_id_pk" PRIMARY KEY("product_id","supply_id"),
	CONSTRAINT "packing_parts_amount" CHECK ("packing_parts"."amount" between 1 and 1000),
	CONSTRAINT "packing_parts_for_pieces" CHECK ("packing_parts"."for_pieces" between 1 and 10000)
);
--> statement-breakpoint
CREATE TABLE "supply_lots" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "supply_lots_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"code" text NOT NULL,
	"supply_id" integer NOT NULL,
	"supplier_id" integer,
	"supplier_lot" text DEFAULT '' NOT NULL,
	"received_on" date NOT NULL,
	"expires_on" date,
	"price_minor" bigint,
	"purchase_id" integer,
	"created_at" timestamp with time zone NOT NULL,
	"created_by" integer,
	CONSTRAINT "supply_lots_code_unique" UNIQUE("code"),
	CONSTRAINT "supply_lots_of_its_supply" UNIQUE("id","supply_id"),
	CONSTRAINT "supply_lots_code_form" CHECK ("supply_lots"."code" ~ '^S[A-Z0-9]{4}$'),
	CONSTRAINT "supply_lots_supplier_lot" CHECK (length("supply_lots"."supplier_lot") <= 80),
	CONSTRAINT "supply_lots_price" CHECK ("supply_lots"."price_minor" between 0 and 1000000000)
);
--> statement-breakpoint
CREATE TABLE "supply_moves" (
	"id" bigint PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "supply_moves_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"supply_id" integer NOT NULL,
	"lot_id" integer,
	"kind" text NOT NULL,
	"amount" bigint NOT NULL,
	"cause" text,
	"run_id" integer,
	"order_line_id" integer,
	"note" text DEFAULT '' NOT NULL,
	"at" timestamp with time zone NOT NULL,
	"person_id" integer,
	CONSTRAINT "supply_moves_kind_known" CHECK ("supply_moves"."kind" in ('received', 'used', 'unused', 'lost', 'counted')),
	CONSTRAINT "supply_moves_sign" CHECK (case when "supply_moves"."kind" in ('received', 'unused') then "supply_moves"."amount" > 0
        when "supply_moves"."kind" in ('used', 'lost') then "supply_moves"."amount" < 0 else true end),
	CONSTRAINT "supply_moves_lotless_only_by_use" CHECK ("supply_moves"."lot_id" is not null or "supply_moves"."kind" in ('used', 'unused', 'counted')),
	CONSTRAINT "supply_moves_used_for_something" CHECK (case when "supply_moves"."kind" in ('used', 'unused') then num_nonnulls("supply_moves"."run_id", "supply_moves"."order_line_id") = 1
        when "supply_moves"."kind" = 'counted' then num_nonnulls("supply_moves"."run_id", "supply_moves"."order_line_id") <= 1
        else num_nonnulls("supply_moves"."run_id", "supply_moves"."order_line_id") = 0 end),
	CONSTRAINT "supply_moves_lost_has_its_cause" CHECK (("supply_moves"."kind" = 'lost') = ("supply_moves"."cause" is not null)),
	CONSTRAINT "supply_moves_cause_known" CHECK ("supply_moves"."cause" in ('spilled', 'spoiled', 'expired', 'sent-back'))
);
--> statement-breakpoint
ALTER TABLE "supplies" DROP CONSTRAINT "supplies_kind_known";--> statement-breakpoint
ALTER TABLE "supplies" ADD COLUMN "counted" boolean DEFAULT true NOT NULL;--> statement-breakpoint
ALTER TABLE "supplies" ADD COLUMN "least_on_hand" bigint DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "supplies" ADD COLUMN "cover_days" integer DEFAULT 14 NOT NULL;--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "supply_cost" text DEFAULT 'last-paid' NOT NULL;--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "hour_minor" bigint;--> statement-breakpoint
ALTER TABLE "purchases" ADD CONSTRAINT "purchases_supply_id_supplies_id_fk" FOREIGN KEY ("supply_id") REFERENCES "public"."supplies"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "purchases" ADD CONSTRAINT "purchases_supplier_id_suppliers_id_fk" FOREIGN KEY ("supplier_id") REFERENCES "public"."suppliers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "purchases" ADD CONSTRAINT "purchases_ordered_by_people_id_fk" FOREIGN KEY ("ordered_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_packs" ADD CONSTRAINT "supply_packs_supply_id_supplies_id_fk" FOREIGN KEY ("supply_id") REFERENCES "public"."supplies"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_packs" ADD CONSTRAINT "supply_packs_supplier_id_suppliers_id_fk" FOREIGN KEY ("supplier_id") REFERENCES "public"."suppliers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "packing_parts" ADD CONSTRAINT "packing_parts_product_id_products_id_fk" FOREIGN KEY ("product_id") REFERENCES "public"."products"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "packing_parts" ADD CONSTRAINT "packing_parts_supply_id_supplies_id_fk" FOREIGN KEY ("supply_id") REFERENCES "public"."supplies"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_lots" ADD CONSTRAINT "supply_lots_supply_id_supplies_id_fk" FOREIGN KEY ("supply_id") REFERENCES "public"."supplies"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_lots" ADD CONSTRAINT "supply_lots_supplier_id_suppliers_id_fk" FOREIGN KEY ("supplier_id") REFERENCES "public"."suppliers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_lots" ADD CONSTRAINT "supply_lots_purchase_id_purchases_id_fk" FOREIGN KEY ("purchase_id") REFERENCES "public"."purchases"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_lots" ADD CONSTRAINT "supply_lots_created_by_people_id_fk" FOREIGN KEY ("created_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_moves" ADD CONSTRAINT "supply_moves_supply_id_supplies_id_fk" FOREIGN KEY ("supply_id") REFERENCES "public"."supplies"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_moves" ADD CONSTRAINT "supply_moves_run_id_runs_id_fk" FOREIGN KEY ("run_id") REFERENCES "public"."runs"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_moves" ADD CONSTRAINT "supply_moves_order_line_id_order_lines_id_fk" FOREIGN KEY ("order_line_id") REFERENCES "public"."order_lines"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_moves" ADD CONSTRAINT "supply_moves_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "supply_moves" ADD CONSTRAINT "supply_moves_lot_of_its_supply" FOREIGN KEY ("lot_id","supply_id") REFERENCES "public"."supply_lots"("id","supply_id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "purchases_open" ON "purchases" USING btree ("supply_id") WHERE "purchases"."state" = 'open';--> statement-breakpoint
CREATE UNIQUE INDEX "suppliers_name_unique" ON "suppliers" USING btree (lower("name"));--> statement-breakpoint
CREATE UNIQUE INDEX "supply_packs_one_usual" ON "supply_packs" USING btree ("supply_id") WHERE "supply_packs"."usual";--> statement-breakpoint
CREATE INDEX "supply_lots_by_supply" ON "supply_lots" USING btree ("supply_id","expires_on");--> statement-breakpoint
CREATE UNIQUE INDEX "supply_moves_received_once" ON "supply_moves" USING btree ("lot_id") WHERE "supply_moves"."kind" = 'received';--> statement-breakpoint
CREATE INDEX "supply_moves_by_lot" ON "supply_moves" USING btree ("lot_id");--> statement-breakpoint
CREATE INDEX "supply_moves_by_supply" ON "supply_moves" USING btree ("supply_id","id");--> statement-breakpoint
CREATE INDEX "supply_moves_beyond" ON "supply_moves" USING btree ("supply_id") WHERE "supply_moves"."lot_id" is null;--> statement-breakpoint
CREATE INDEX "supply_moves_by_run" ON "supply_moves" USING btree ("run_id") WHERE "supply_moves"."run_id" is not null;--> statement-breakpoint
CREATE INDEX "supply_moves_by_order_line" ON "supply_moves" USING btree ("order_line_id") WHERE "supply_moves"."order_line_id" is not null;--> statement-breakpoint
ALTER TABLE "supplies" ADD CONSTRAINT "supplies_least_on_hand" CHECK ("supplies"."least_on_hand" between 0 and 1000000000000);--> statement-breakpoint
ALTER TABLE "supplies" ADD CONSTRAINT "supplies_cover_days" CHECK ("supplies"."cover_days" between 1 and 366);--> statement-breakpoint
ALTER TABLE "supplies" ADD CONSTRAINT "supplies_kind_known" CHECK ("supplies"."kind" in ('soda', 'acid', 'filler', 'surfactant', 'colour', 'oil', 'scent', 'solubiliser', 'alcohol', 'water', 'other', 'cup', 'bag', 'tie', 'label', 'box', 'wrap'));--> statement-breakpoint
ALTER TABLE "workshop" ADD CONSTRAINT "workshop_supply_cost_known" CHECK ("workshop"."supply_cost" in ('last-paid', 'average'));--> statement-breakpoint
ALTER TABLE "workshop" ADD CONSTRAINT "workshop_hour" CHECK ("workshop"."hour_minor" between 0 and 10000000);--> statement-breakpoint
CREATE VIEW "public"."supply_lot_balances" AS (
  select supply_lots.id as lot_id, supply_lots.supply_id,
    coalesce((select sum(supply_moves.amount) from supply_moves where supply_moves.lot_id = supply_lots.id), 0)::bigint as amount
  from supply_lots);--> statement-breakpoint
CREATE TRIGGER supply_moves_written_once BEFORE UPDATE OR DELETE ON "supply_moves" FOR EACH ROW EXECUTE FUNCTION refuse_rewriting();
--> statement-breakpoint
-- A move holds its supply, so that of two who take the last of it one waits for the other and sees what was left, and is
-- refused when a sum would become impossible: a lot below nothing, more given back than was taken, or, of what was used
-- beyond the ledger, less than nothing.
CREATE FUNCTION check_supply_move() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  total bigint;
BEGIN
  PERFORM FROM supplies WHERE id = NEW.supply_id FOR NO KEY UPDATE;
  IF NEW.lot_id IS NULL THEN
    SELECT coalesce(sum(amount), 0) + NEW.amount INTO total
      FROM supply_moves WHERE supply_id = NEW.supply_id AND lot_id IS NULL;
    IF total > 0 THEN
      RAISE EXCEPTION 'no more is settled than was used beyond the ledger'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'supply_moves_beyond_never_above_zero', TABLE = 'supply_moves';
    END IF;
  ELSE
    SELECT coalesce(sum(amount), 0) + NEW.amount INTO total FROM supply_moves WHERE lot_id = NEW.lot_id;
    IF total < 0 THEN
      RAISE EXCEPTION 'a lot never has less than nothing'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'supply_moves_never_below_zero', TABLE = 'supply_moves';
    END IF;
  END IF;
  IF NEW.kind = 'unused' THEN
    SELECT coalesce(sum(amount), 0) + NEW.amount INTO total FROM supply_moves
      WHERE supply_id = NEW.supply_id AND lot_id IS NOT DISTINCT FROM NEW.lot_id
        AND run_id IS NOT DISTINCT FROM NEW.run_id AND order_line_id IS NOT DISTINCT FROM NEW.order_line_id
        AND kind IN ('used', 'unused');
    IF total > 0 THEN
      RAISE EXCEPTION 'no more is given back than was taken'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'supply_moves_never_over_given_back', TABLE = 'supply_moves';
    END IF;
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER supply_moves_checked BEFORE INSERT ON "supply_moves" FOR EACH ROW EXECUTE FUNCTION check_supply_move();
--> statement-breakpoint
-- Milligrams and pieces are never taken for each other: what goes into a bowl stays that, and so does what is packed with.
CREATE FUNCTION is_packaging(kind text) RETURNS boolean LANGUAGE sql IMMUTABLE AS $$
  SELECT kind IN ('cup', 'bag', 'tie', 'label', 'box', 'wrap')
$$;
--> statement-breakpoint
CREATE FUNCTION keep_supply_use() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF is_packaging(NEW.kind) <> is_packaging(OLD.kind) THEN
    RAISE EXCEPTION 'what goes into a bowl never becomes what is packed with, nor the other way round'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'supplies_keep_their_use', TABLE = 'supplies';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER supplies_keep_their_use BEFORE UPDATE ON "supplies" FOR EACH ROW EXECUTE FUNCTION keep_supply_use();
--> statement-breakpoint
CREATE FUNCTION check_use_of_supply() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (SELECT is_packaging(kind) FROM supplies WHERE id = NEW.supply_id) <> (TG_TABLE_NAME = 'packing_parts') THEN
    RAISE EXCEPTION 'a recipe is of what goes into a bowl, a packing list of what is packed with'
      USING ERRCODE = 'check_violation', CONSTRAINT = TG_TABLE_NAME || '_of_its_use', TABLE = TG_TABLE_NAME;
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER recipe_parts_of_its_use BEFORE INSERT ON "recipe_parts" FOR EACH ROW EXECUTE FUNCTION check_use_of_supply();
--> statement-breakpoint
CREATE TRIGGER packing_parts_of_its_use BEFORE INSERT OR UPDATE ON "packing_parts" FOR EACH ROW EXECUTE FUNCTION check_use_of_supply();
--> statement-breakpoint
-- What was paid and what an hour costs are amounts too.
CREATE OR REPLACE FUNCTION keep_currency() RETURNS trigger LANGUAGE plpgsql AS $$
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
    OR EXISTS (SELECT FROM supply_lots WHERE price_minor IS NOT NULL)
    OR EXISTS (SELECT FROM supply_packs WHERE price_minor IS NOT NULL)
    OR EXISTS (SELECT FROM purchases WHERE price_minor IS NOT NULL)
    OR OLD.hour_minor IS NOT NULL
  ) THEN
    RAISE EXCEPTION 'there are amounts in the workshop''s currency'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'workshop_keeps_its_currency', TABLE = 'workshop';
  END IF;
  RETURN NEW;
END $$;
