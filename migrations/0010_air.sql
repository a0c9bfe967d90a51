-- The air as it was read off, looks at lots that were still damp, and the air of the day the shapes’ drying times are for.
CREATE TABLE "air_readings" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "air_readings_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"on_date" date NOT NULL,
	"at" timestamp with time zone NOT NULL,
	"celsius_tenths" smallint NOT NULL,
	"humidity_tenths" smallint NOT NULL,
	"person_id" integer NOT NULL,
	CONSTRAINT "air_readings_range" CHECK ("air_readings"."celsius_tenths" between 0 and 500 and "air_readings"."humidity_tenths" between 1 and 1000)
);
--> statement-breakpoint
CREATE TABLE "damp_looks" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "damp_looks_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"lot_id" integer NOT NULL,
	"at" timestamp with time zone NOT NULL,
	"person_id" integer NOT NULL
);
--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "reference_celsius_tenths" smallint;--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "reference_humidity_tenths" smallint;--> statement-breakpoint
ALTER TABLE "air_readings" ADD CONSTRAINT "air_readings_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "damp_looks" ADD CONSTRAINT "damp_looks_lot_id_lots_id_fk" FOREIGN KEY ("lot_id") REFERENCES "public"."lots"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "damp_looks" ADD CONSTRAINT "damp_looks_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "air_readings_by_date" ON "air_readings" USING btree ("on_date","at");--> statement-breakpoint
CREATE INDEX "damp_looks_by_lot" ON "damp_looks" USING btree ("lot_id","at");--> statement-breakpoint
ALTER TABLE "workshop" ADD CONSTRAINT "workshop_reference_air" CHECK (num_nulls("workshop"."reference_celsius_tenths", "workshop"."reference_humidity_tenths") = 2
        or ("workshop"."reference_celsius_tenths" between 0 and 500 and "workshop"."reference_humidity_tenths" between 1 and 999));