-- Lots on hold, of which nothing is packed or sent off until the owner lets them go, and pieces of a lot that the owner
-- keeps for an order.
CREATE TABLE "kept_pieces" (
	"lot_id" integer NOT NULL,
	"order_line_id" integer NOT NULL,
	"units" integer NOT NULL,
	"kept_at" timestamp with time zone NOT NULL,
	"kept_by" integer,
	CONSTRAINT "kept_pieces_lot_id_order_line_id_pk" PRIMARY KEY("lot_id","order_line_id"),
	CONSTRAINT "kept_pieces_units" CHECK ("kept_pieces"."units" between 1 and 100000)
);
--> statement-breakpoint
CREATE TABLE "lot_holds" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "lot_holds_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"lot_id" integer NOT NULL,
	"reason" text NOT NULL,
	"put_at" timestamp with time zone NOT NULL,
	"put_by" integer,
	"released_at" timestamp with time zone,
	"released_by" integer,
	"release_note" text,
	CONSTRAINT "lot_holds_reason_given" CHECK (length(trim("lot_holds"."reason")) between 1 and 200),
	CONSTRAINT "lot_holds_release_says_why" CHECK (("lot_holds"."released_at" is null) = ("lot_holds"."release_note" is null)),
	CONSTRAINT "lot_holds_released_by_somebody" CHECK ("lot_holds"."released_by" is null or "lot_holds"."released_at" is not null),
	CONSTRAINT "lot_holds_release_note_given" CHECK (length(trim("lot_holds"."release_note")) between 1 and 200)
);
--> statement-breakpoint
ALTER TABLE "kept_pieces" ADD CONSTRAINT "kept_pieces_lot_id_lots_id_fk" FOREIGN KEY ("lot_id") REFERENCES "public"."lots"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "kept_pieces" ADD CONSTRAINT "kept_pieces_order_line_id_order_lines_id_fk" FOREIGN KEY ("order_line_id") REFERENCES "public"."order_lines"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "kept_pieces" ADD CONSTRAINT "kept_pieces_kept_by_people_id_fk" FOREIGN KEY ("kept_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "lot_holds" ADD CONSTRAINT "lot_holds_lot_id_lots_id_fk" FOREIGN KEY ("lot_id") REFERENCES "public"."lots"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "lot_holds" ADD CONSTRAINT "lot_holds_put_by_people_id_fk" FOREIGN KEY ("put_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "lot_holds" ADD CONSTRAINT "lot_holds_released_by_people_id_fk" FOREIGN KEY ("released_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "kept_pieces_by_order_line" ON "kept_pieces" USING btree ("order_line_id");--> statement-breakpoint
CREATE UNIQUE INDEX "lot_holds_one_open" ON "lot_holds" USING btree ("lot_id") WHERE "lot_holds"."released_at" is null;--> statement-breakpoint
CREATE INDEX "lot_holds_by_lot" ON "lot_holds" USING btree ("lot_id","id");--> statement-breakpoint
CREATE VIEW "public"."kept_now" AS (
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
  ) as kept where units > 0);--> statement-breakpoint
CREATE VIEW "public"."lot_stops" AS (
  select lot_id, 'held' as kind, reason, put_at as since, put_by as person_id
  from lot_holds where released_at is null);--> statement-breakpoint
-- Nothing goes into a box of a lot that is stopped. Fires after moves_checked, which holds the lot's row: whoever stops a
-- lot holds it too, so that of the two one waits for the other and sees what it did.
CREATE FUNCTION refuse_stopped_move() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM lot_stops WHERE lot_id = NEW.lot_id) THEN
    RAISE EXCEPTION 'nothing is packed of a lot that is stopped'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'moves_not_of_stopped_lots', TABLE = 'moves';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER moves_stopped BEFORE INSERT ON "moves" FOR EACH ROW WHEN (NEW.kind = 'packed')
  EXECUTE FUNCTION refuse_stopped_move();
--> statement-breakpoint
-- Nor does it leave in a box it was packed into before. Takes the lot after the order's line, as packing does.
CREATE FUNCTION refuse_stopped_departure() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM FROM lots WHERE id = NEW.lot_id FOR UPDATE;
  IF EXISTS (SELECT FROM lot_stops WHERE lot_id = NEW.lot_id) THEN
    RAISE EXCEPTION 'nothing leaves of a lot that is stopped'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'delivery_lines_not_of_stopped_lots', TABLE = 'delivery_lines';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER delivery_lines_stopped BEFORE INSERT ON "delivery_lines" FOR EACH ROW
  EXECUTE FUNCTION refuse_stopped_departure();
