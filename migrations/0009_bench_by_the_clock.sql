-- The day by the clock: how far each bowl is, when pieces were turned, at which hours, and a bell for who watches.
CREATE TABLE "bowls" (
	"run_id" integer NOT NULL,
	"bowl" integer NOT NULL,
	"started_at" timestamp with time zone NOT NULL,
	"mixed_at" timestamp with time zone,
	"pressed_at" timestamp with time zone,
	"person_id" integer,
	CONSTRAINT "bowls_run_id_bowl_pk" PRIMARY KEY("run_id","bowl"),
	CONSTRAINT "bowls_counted_from_one" CHECK ("bowls"."bowl" between 1 and 10000),
	CONSTRAINT "bowls_pressed_after_mixing" CHECK ("bowls"."pressed_at" is null or "bowls"."mixed_at" is not null),
	CONSTRAINT "bowls_times_in_order" CHECK ("bowls"."started_at" <= coalesce("bowls"."mixed_at", "bowls"."started_at") and coalesce("bowls"."mixed_at", "bowls"."started_at") <= coalesce("bowls"."pressed_at", "bowls"."mixed_at", "bowls"."started_at"))
);
--> statement-breakpoint
CREATE TABLE "turnings" (
	"lot_id" integer NOT NULL,
	"turning" integer NOT NULL,
	"at" timestamp with time zone NOT NULL,
	"person_id" integer,
	CONSTRAINT "turnings_lot_id_turning_pk" PRIMARY KEY("lot_id","turning"),
	CONSTRAINT "turnings_counted_from_one" CHECK ("turnings"."turning" >= 1)
);
--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "first_turn_minutes" integer DEFAULT 270 NOT NULL;--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "every_turn_minutes" integer DEFAULT 180 NOT NULL;--> statement-breakpoint
ALTER TABLE "bowls" ADD CONSTRAINT "bowls_run_id_runs_id_fk" FOREIGN KEY ("run_id") REFERENCES "public"."runs"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bowls" ADD CONSTRAINT "bowls_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "turnings" ADD CONSTRAINT "turnings_lot_id_lots_id_fk" FOREIGN KEY ("lot_id") REFERENCES "public"."lots"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "turnings" ADD CONSTRAINT "turnings_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "workshop" ADD CONSTRAINT "workshop_turnings" CHECK ("workshop"."first_turn_minutes" between 15 and 1440 and "workshop"."every_turn_minutes" between 15 and 1440);--> statement-breakpoint
-- Whoever changes what the Bench shows rings once his transaction is done, whichever server he is at; every page that
-- watches then asks anew. Postgres joins the same ringing of one transaction into one.
CREATE FUNCTION ring_bench() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_notify('bench', '');
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER runs_ring AFTER INSERT OR UPDATE OR DELETE ON "runs" FOR EACH STATEMENT EXECUTE FUNCTION ring_bench();
--> statement-breakpoint
CREATE TRIGGER lots_ring AFTER INSERT OR UPDATE OR DELETE ON "lots" FOR EACH STATEMENT EXECUTE FUNCTION ring_bench();
--> statement-breakpoint
CREATE TRIGGER moves_ring AFTER INSERT ON "moves" FOR EACH STATEMENT EXECUTE FUNCTION ring_bench();
--> statement-breakpoint
CREATE TRIGGER bowls_ring AFTER INSERT OR UPDATE OR DELETE ON "bowls" FOR EACH STATEMENT EXECUTE FUNCTION ring_bench();
--> statement-breakpoint
CREATE TRIGGER turnings_ring AFTER INSERT OR UPDATE OR DELETE ON "turnings" FOR EACH STATEMENT EXECUTE FUNCTION ring_bench();
--> statement-breakpoint
CREATE TRIGGER workshop_ring AFTER UPDATE ON "workshop" FOR EACH STATEMENT EXECUTE FUNCTION ring_bench();
