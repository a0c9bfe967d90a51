-- Recalls of a lot of pieces, or of a lot of a supply with every lot that was made of it, and who was told of them.
CREATE TABLE "recall_notices" (
	"id" bigint PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "recall_notices_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"recall_id" integer NOT NULL,
	"customer_id" integer NOT NULL,
	"how" text NOT NULL,
	"said" text DEFAULT '' NOT NULL,
	"units_back" integer DEFAULT 0 NOT NULL,
	"at" timestamp with time zone NOT NULL,
	"person_id" integer,
	CONSTRAINT "recall_notices_how_known" CHECK ("recall_notices"."how" in ('phone', 'e-mail', 'visit', 'letter', 'notice')),
	CONSTRAINT "recall_notices_said" CHECK (length("recall_notices"."said") <= 500),
	CONSTRAINT "recall_notices_units_back" CHECK ("recall_notices"."units_back" between 0 and 100000)
);
--> statement-breakpoint
CREATE TABLE "recalls" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "recalls_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"lot_id" integer,
	"supply_lot_id" integer,
	"reason" text NOT NULL,
	"begun_at" timestamp with time zone NOT NULL,
	"begun_by" integer,
	"ended_at" timestamp with time zone,
	"ended_by" integer,
	"end_note" text,
	CONSTRAINT "recalls_of_one_lot" CHECK (num_nonnulls("recalls"."lot_id", "recalls"."supply_lot_id") = 1),
	CONSTRAINT "recalls_reason_given" CHECK (length(trim("recalls"."reason")) between 1 and 200),
	CONSTRAINT "recalls_end_says_why" CHECK (("recalls"."ended_at" is null) = ("recalls"."end_note" is null)),
	CONSTRAINT "recalls_ended_by_somebody" CHECK ("recalls"."ended_by" is null or "recalls"."ended_at" is not null),
	CONSTRAINT "recalls_end_note_given" CHECK (length(trim("recalls"."end_note")) between 1 and 200)
);
--> statement-breakpoint
DROP VIEW "public"."lot_stops";--> statement-breakpoint
ALTER TABLE "recall_notices" ADD CONSTRAINT "recall_notices_recall_id_recalls_id_fk" FOREIGN KEY ("recall_id") REFERENCES "public"."recalls"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "recall_notices" ADD CONSTRAINT "recall_notices_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "recall_notices" ADD CONSTRAINT "recall_notices_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "recalls" ADD CONSTRAINT "recalls_lot_id_lots_id_fk" FOREIGN KEY ("lot_id") REFERENCES "public"."lots"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "recalls" ADD CONSTRAINT "recalls_supply_lot_id_supply_lots_id_fk" FOREIGN KEY ("supply_lot_id") REFERENCES "public"."supply_lots"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "recalls" ADD CONSTRAINT "recalls_begun_by_people_id_fk" FOREIGN KEY ("begun_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "recalls" ADD CONSTRAINT "recalls_ended_by_people_id_fk" FOREIGN KEY ("ended_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "recall_notices_by_recall" ON "recall_notices" USING btree ("recall_id","customer_id","id");--> statement-breakpoint
CREATE UNIQUE INDEX "recalls_one_open_of_lot" ON "recalls" USING btree ("lot_id") WHERE "recalls"."ended_at" is null;--> statement-breakpoint
CREATE UNIQUE INDEX "recalls_one_open_of_supply_lot" ON "recalls" USING btree ("supply_lot_id") WHERE "recalls"."ended_at" is null;--> statement-breakpoint
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
    where supply_moves.lot_id = recalls.supply_lot_id and run_id is not null
    group by run_id having sum(amount) <> 0) as used
  join lots on lots.run_id = used.run_id
  where recalls.ended_at is null and lots.state <> 'withdrawn');--> statement-breakpoint
CREATE TRIGGER recall_notices_written_once BEFORE UPDATE OR DELETE ON "recall_notices" FOR EACH ROW
  EXECUTE FUNCTION refuse_rewriting();
--> statement-breakpoint
-- Nothing more is taken of a lot of a supply that is recalled. Fires after supply_moves_checked, which holds the supply's
-- row: a recall holds it too, so that of the two one waits for the other and sees what it did.
CREATE FUNCTION refuse_recalled_use() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM recalls WHERE supply_lot_id = NEW.lot_id AND ended_at IS NULL) THEN
    RAISE EXCEPTION 'nothing more is taken of a lot that is recalled'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'supply_moves_not_of_recalled_lots', TABLE = 'supply_moves';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER supply_moves_recalled BEFORE INSERT ON "supply_moves" FOR EACH ROW
  WHEN (NEW.kind = 'used' AND NEW.lot_id IS NOT NULL) EXECUTE FUNCTION refuse_recalled_use();
