-- Parcels: several to a delivery, each with a carrier of the shop's own list. What was written down on deliveries moves there.
CREATE TABLE "carriers" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "carriers_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"name" text NOT NULL,
	"services" text[] DEFAULT '{}' NOT NULL,
	"tracking_pattern" text DEFAULT '' NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "carriers_name_given" CHECK (length(trim("carriers"."name")) between 1 and 80),
	CONSTRAINT "carriers_tracking_form" CHECK ("carriers"."tracking_pattern" = '' or ("carriers"."tracking_pattern" like 'https://%' and position('{number}' in "carriers"."tracking_pattern") > 0))
);
--> statement-breakpoint
CREATE TABLE "parcels" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "parcels_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"delivery_id" integer NOT NULL,
	"carrier_id" integer,
	"service" text DEFAULT '' NOT NULL,
	"grams" integer,
	"tracking" text DEFAULT '' NOT NULL,
	"cost_minor" bigint,
	CONSTRAINT "parcels_service_of_a_carrier" CHECK ("parcels"."service" = '' or "parcels"."carrier_id" is not null),
	CONSTRAINT "parcels_grams" CHECK ("parcels"."grams" between 1 and 1000000),
	CONSTRAINT "parcels_cost" CHECK ("parcels"."cost_minor" between 0 and 1000000000),
	CONSTRAINT "parcels_something_known" CHECK (num_nonnulls("parcels"."carrier_id", "parcels"."grams", "parcels"."cost_minor") > 0 or "parcels"."tracking" <> '')
);
--> statement-breakpoint
ALTER TABLE "parcels" ADD CONSTRAINT "parcels_delivery_id_deliveries_id_fk" FOREIGN KEY ("delivery_id") REFERENCES "public"."deliveries"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "parcels" ADD CONSTRAINT "parcels_carrier_id_carriers_id_fk" FOREIGN KEY ("carrier_id") REFERENCES "public"."carriers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "carriers_name_unique" ON "carriers" USING btree (lower("name"));--> statement-breakpoint
CREATE INDEX "parcels_by_delivery" ON "parcels" USING btree ("delivery_id","id");--> statement-breakpoint
CREATE INDEX "parcels_by_carrier" ON "parcels" USING btree ("carrier_id");--> statement-breakpoint
-- Every carrier that was ever written down, once however it was capitalised, and one parcel for each delivery that named
-- a carrier or a number: nothing of it is lost with the columns.
INSERT INTO "carriers" ("name") SELECT min(trim("carrier")) FROM "deliveries" WHERE trim("carrier") <> '' GROUP BY lower(trim("carrier"));--> statement-breakpoint
INSERT INTO "parcels" ("delivery_id", "carrier_id", "tracking")
	SELECT "deliveries"."id", "carriers"."id", trim("deliveries"."tracking") FROM "deliveries"
	LEFT JOIN "carriers" ON lower("carriers"."name") = lower(trim("deliveries"."carrier"))
	WHERE trim("deliveries"."carrier") <> '' OR trim("deliveries"."tracking") <> '' ORDER BY "deliveries"."id";--> statement-breakpoint
ALTER TABLE "deliveries" DROP COLUMN "carrier";--> statement-breakpoint
ALTER TABLE "deliveries" DROP COLUMN "tracking";
--> statement-breakpoint
-- The currency stays once it is known what a parcel cost. Whoever writes a cost holds the workshop's row for share.
CREATE FUNCTION keep_currency_of_parcels() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.currency <> OLD.currency AND EXISTS (SELECT FROM parcels WHERE cost_minor IS NOT NULL) THEN
    RAISE EXCEPTION 'there are amounts in the workshop''s currency'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'workshop_keeps_its_currency', TABLE = 'workshop';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER workshop_keeps_the_currency_of_parcels BEFORE UPDATE ON "workshop" FOR EACH ROW EXECUTE FUNCTION keep_currency_of_parcels();
