-- What listed allergens a scent oil holds, as its supplier states it: labels for the European Union and the United Kingdom name them.
CREATE TABLE "listed_allergens" (
	"supply_id" integer NOT NULL,
	"name" text NOT NULL,
	"share_ppm" integer NOT NULL,
	CONSTRAINT "listed_allergens_supply_id_name_pk" PRIMARY KEY("supply_id","name"),
	CONSTRAINT "listed_allergens_name_given" CHECK (length(trim("listed_allergens"."name")) between 1 and 120),
	CONSTRAINT "listed_allergens_range" CHECK ("listed_allergens"."share_ppm" between 0 and 1000000)
);
--> statement-breakpoint
ALTER TABLE "supplies" ADD COLUMN "allergen_source" text DEFAULT '' NOT NULL;--> statement-breakpoint
ALTER TABLE "listed_allergens" ADD CONSTRAINT "listed_allergens_supply_id_supplies_id_fk" FOREIGN KEY ("supply_id") REFERENCES "public"."supplies"("id") ON DELETE no action ON UPDATE no action;