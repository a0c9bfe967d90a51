-- The local round: where its stops are, how long it takes between them, how the shop drives, and who took what at the door.
CREATE TABLE "round_driving" (
	"id" smallint PRIMARY KEY DEFAULT 1 NOT NULL,
	"kilometres_an_hour" smallint NOT NULL,
	"road_percent" smallint NOT NULL,
	"door_minutes" smallint NOT NULL,
	"leaves_minute" smallint NOT NULL,
	CONSTRAINT "round_driving_only_one" CHECK ("round_driving"."id" = 1),
	CONSTRAINT "round_driving_speed" CHECK ("round_driving"."kilometres_an_hour" between 3 and 130),
	CONSTRAINT "round_driving_road" CHECK ("round_driving"."road_percent" between 100 and 300),
	CONSTRAINT "round_driving_door" CHECK ("round_driving"."door_minutes" between 0 and 120),
	CONSTRAINT "round_driving_leaves" CHECK ("round_driving"."leaves_minute" between 0 and 1439)
);
--> statement-breakpoint
CREATE TABLE "round_minutes" (
	"one_id" integer NOT NULL,
	"other_id" integer NOT NULL,
	"minutes" smallint NOT NULL,
	CONSTRAINT "round_minutes_one_id_other_id_pk" PRIMARY KEY("one_id","other_id"),
	CONSTRAINT "round_minutes_once_a_pair" CHECK ("round_minutes"."one_id" < "round_minutes"."other_id"),
	CONSTRAINT "round_minutes_range" CHECK ("round_minutes"."minutes" between 0 and 600)
);
--> statement-breakpoint
CREATE TABLE "round_places" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "round_places_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"customer_id" integer,
	"latitude_micro" integer,
	"longitude_micro" integer,
	CONSTRAINT "round_places_point" CHECK (num_nulls("round_places"."latitude_micro", "round_places"."longitude_micro") = 2
        or ("round_places"."latitude_micro" between -90000000 and 90000000 and "round_places"."longitude_micro" between -180000000 and 180000000))
);
--> statement-breakpoint
ALTER TABLE "deliveries" ADD COLUMN "received_by" text DEFAULT '' NOT NULL;--> statement-breakpoint
ALTER TABLE "round_minutes" ADD CONSTRAINT "round_minutes_one_id_round_places_id_fk" FOREIGN KEY ("one_id") REFERENCES "public"."round_places"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "round_minutes" ADD CONSTRAINT "round_minutes_other_id_round_places_id_fk" FOREIGN KEY ("other_id") REFERENCES "public"."round_places"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "round_places" ADD CONSTRAINT "round_places_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "round_minutes_by_other" ON "round_minutes" USING btree ("other_id");--> statement-breakpoint
CREATE UNIQUE INDEX "round_places_one_a_customer" ON "round_places" USING btree ("customer_id");--> statement-breakpoint
CREATE UNIQUE INDEX "round_places_one_workshop" ON "round_places" USING btree ((1)) WHERE "round_places"."customer_id" is null;--> statement-breakpoint
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_received_when_delivered" CHECK ("deliveries"."received_by" = '' or "deliveries"."state" = 'delivered');