-- Batch sheets: what was ticked off while weighing, sprays after squeeze tests, the room, and what went otherwise.
CREATE TABLE "batch_records" (
	"run_id" integer PRIMARY KEY NOT NULL,
	"room_decidegrees" integer,
	"humidity_percent" integer,
	"note" text DEFAULT '' NOT NULL,
	"version" integer NOT NULL,
	CONSTRAINT "batch_records_room" CHECK ("batch_records"."room_decidegrees" between -200 and 600),
	CONSTRAINT "batch_records_humidity" CHECK ("batch_records"."humidity_percent" between 0 and 100),
	CONSTRAINT "batch_records_note" CHECK (length("batch_records"."note") <= 1000),
	CONSTRAINT "batch_records_version" CHECK ("batch_records"."version" >= 1)
);
--> statement-breakpoint
CREATE TABLE "batch_sprays" (
	"run_id" integer NOT NULL,
	"bowl" integer NOT NULL,
	"sprays" integer NOT NULL,
	CONSTRAINT "batch_sprays_run_id_bowl_pk" PRIMARY KEY("run_id","bowl"),
	CONSTRAINT "batch_sprays_bowl" CHECK ("batch_sprays"."bowl" between 1 and 10000),
	CONSTRAINT "batch_sprays_count" CHECK ("batch_sprays"."sprays" between 0 and 999)
);
--> statement-breakpoint
CREATE TABLE "batch_ticks" (
	"run_id" integer NOT NULL,
	"bowl" integer NOT NULL,
	"place" integer NOT NULL,
	"at" timestamp with time zone NOT NULL,
	"person_id" integer,
	CONSTRAINT "batch_ticks_run_id_bowl_place_pk" PRIMARY KEY("run_id","bowl","place"),
	CONSTRAINT "batch_ticks_bowl" CHECK ("batch_ticks"."bowl" between 1 and 10000 and "batch_ticks"."place" >= 0)
);
--> statement-breakpoint
ALTER TABLE "batch_records" ADD CONSTRAINT "batch_records_run_id_runs_id_fk" FOREIGN KEY ("run_id") REFERENCES "public"."runs"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "batch_sprays" ADD CONSTRAINT "batch_sprays_run_id_runs_id_fk" FOREIGN KEY ("run_id") REFERENCES "public"."runs"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "batch_ticks" ADD CONSTRAINT "batch_ticks_run_id_runs_id_fk" FOREIGN KEY ("run_id") REFERENCES "public"."runs"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "batch_ticks" ADD CONSTRAINT "batch_ticks_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE TRIGGER batch_records_ring AFTER INSERT OR UPDATE OR DELETE ON "batch_records" FOR EACH STATEMENT EXECUTE FUNCTION ring_bench();
--> statement-breakpoint
CREATE TRIGGER batch_sprays_ring AFTER INSERT OR UPDATE OR DELETE ON "batch_sprays" FOR EACH STATEMENT EXECUTE FUNCTION ring_bench();
--> statement-breakpoint
CREATE TRIGGER batch_ticks_ring AFTER INSERT OR UPDATE OR DELETE ON "batch_ticks" FOR EACH STATEMENT EXECUTE FUNCTION ring_bench();
