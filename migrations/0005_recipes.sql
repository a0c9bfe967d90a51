-- Ingredients with what their suppliers state, and recipes by version; a run keeps the version it was mixed by.
CREATE TABLE "recipe_parts" (
	"recipe_id" integer NOT NULL,
	"place" integer NOT NULL,
	"phase" text NOT NULL,
	"supply_id" integer NOT NULL,
	"milligrams_per_kilogram" integer NOT NULL,
	"thousandths" integer NOT NULL,
	"unit" text NOT NULL,
	CONSTRAINT "recipe_parts_recipe_id_place_pk" PRIMARY KEY("recipe_id","place"),
	CONSTRAINT "recipe_parts_once_in_a_phase" UNIQUE("recipe_id","supply_id","phase"),
	CONSTRAINT "recipe_parts_phase_known" CHECK ("recipe_parts"."phase" in ('dry', 'colour', 'liquid', 'acid')),
	CONSTRAINT "recipe_parts_range" CHECK ("recipe_parts"."milligrams_per_kilogram" between 1 and 1000000),
	CONSTRAINT "recipe_parts_written" CHECK ("recipe_parts"."thousandths" > 0),
	CONSTRAINT "recipe_parts_unit_known" CHECK ("recipe_parts"."unit" in ('g', 'kg', 'oz', 'lb', 'ml', 'fl-oz-us', 'fl-oz-imperial', 'tsp', 'percent'))
);
--> statement-breakpoint
CREATE TABLE "recipes" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "recipes_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"blend_id" integer NOT NULL,
	"version" integer NOT NULL,
	"valid_from" date NOT NULL,
	"category" text NOT NULL,
	"note" text DEFAULT '' NOT NULL,
	"written_for_thousandths" integer,
	"written_for_unit" text,
	"created_at" timestamp with time zone NOT NULL,
	"created_by" integer,
	CONSTRAINT "recipes_one_of_each_version" UNIQUE("blend_id","version"),
	CONSTRAINT "recipes_version" CHECK ("recipes"."version" > 0),
	CONSTRAINT "recipes_category_given" CHECK (length(trim("recipes"."category")) between 1 and 12),
	CONSTRAINT "recipes_written_for" CHECK (("recipes"."written_for_thousandths" is null) = ("recipes"."written_for_unit" is null) and coalesce("recipes"."written_for_thousandths", 1) > 0),
	CONSTRAINT "recipes_written_for_unit_known" CHECK ("recipes"."written_for_unit" in ('g', 'kg', 'oz', 'lb'))
);
--> statement-breakpoint
CREATE TABLE "scent_limits" (
	"supply_id" integer NOT NULL,
	"category" text NOT NULL,
	"limit_ppm" integer NOT NULL,
	"source" text NOT NULL,
	CONSTRAINT "scent_limits_supply_id_category_pk" PRIMARY KEY("supply_id","category"),
	CONSTRAINT "scent_limits_category_given" CHECK (length(trim("scent_limits"."category")) between 1 and 12),
	CONSTRAINT "scent_limits_range" CHECK ("scent_limits"."limit_ppm" between 0 and 1000000),
	CONSTRAINT "scent_limits_source_given" CHECK (length(trim("scent_limits"."source")) > 0)
);
--> statement-breakpoint
CREATE TABLE "supplies" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "supplies_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"name" text NOT NULL,
	"kind" text NOT NULL,
	"label_name" text DEFAULT '' NOT NULL,
	"density_grams_per_litre" integer,
	"density_source" text DEFAULT '' NOT NULL,
	"evaporates_basis_points" integer DEFAULT 0 NOT NULL,
	"dusty" boolean DEFAULT false NOT NULL,
	"flammable" boolean DEFAULT false NOT NULL,
	"statement" text DEFAULT '' NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "supplies_name_given" CHECK (length(trim("supplies"."name")) between 1 and 120),
	CONSTRAINT "supplies_kind_known" CHECK ("supplies"."kind" in ('soda', 'acid', 'filler', 'surfactant', 'colour', 'oil', 'scent', 'solubiliser', 'alcohol', 'water', 'other')),
	CONSTRAINT "supplies_density_range" CHECK ("supplies"."density_grams_per_litre" between 10 and 25000),
	CONSTRAINT "supplies_density_has_its_source" CHECK (("supplies"."density_grams_per_litre" is null) = ("supplies"."density_source" = '')),
	CONSTRAINT "supplies_evaporates_range" CHECK ("supplies"."evaporates_basis_points" between 0 and 10000)
);
--> statement-breakpoint
ALTER TABLE "runs" ADD COLUMN "recipe_id" integer;--> statement-breakpoint
ALTER TABLE "recipe_parts" ADD CONSTRAINT "recipe_parts_recipe_id_recipes_id_fk" FOREIGN KEY ("recipe_id") REFERENCES "public"."recipes"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "recipe_parts" ADD CONSTRAINT "recipe_parts_supply_id_supplies_id_fk" FOREIGN KEY ("supply_id") REFERENCES "public"."supplies"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "recipes" ADD CONSTRAINT "recipes_blend_id_blends_id_fk" FOREIGN KEY ("blend_id") REFERENCES "public"."blends"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "recipes" ADD CONSTRAINT "recipes_created_by_people_id_fk" FOREIGN KEY ("created_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "scent_limits" ADD CONSTRAINT "scent_limits_supply_id_supplies_id_fk" FOREIGN KEY ("supply_id") REFERENCES "public"."supplies"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "supplies_name_unique" ON "supplies" USING btree (lower("name"));--> statement-breakpoint
ALTER TABLE "runs" ADD CONSTRAINT "runs_recipe_id_recipes_id_fk" FOREIGN KEY ("recipe_id") REFERENCES "public"."recipes"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "runs" ADD CONSTRAINT "runs_recipe_from_the_start" CHECK ("runs"."recipe_id" is null or "runs"."started_at" is not null);--> statement-breakpoint
-- A recipe that something was mixed by is never rewritten: a change is another version.
CREATE TRIGGER recipes_written_once BEFORE UPDATE OR DELETE ON "recipes" FOR EACH ROW EXECUTE FUNCTION refuse_rewriting();
--> statement-breakpoint
CREATE TRIGGER recipe_parts_written_once BEFORE UPDATE OR DELETE ON "recipe_parts" FOR EACH ROW EXECUTE FUNCTION refuse_rewriting();
--> statement-breakpoint
-- The parts of a version add up to a kilogram. Asked when the transaction ends, as they are written one after the other;
-- a part that came later would be one too many.
CREATE FUNCTION check_recipe_sum() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  of_recipe integer := CASE TG_TABLE_NAME WHEN 'recipes' THEN (to_jsonb(NEW)->>'id')::integer ELSE (to_jsonb(NEW)->>'recipe_id')::integer END;
BEGIN
  IF (SELECT coalesce(sum(milligrams_per_kilogram), 0) FROM recipe_parts WHERE recipe_id = of_recipe) <> 1000000 THEN
    RAISE EXCEPTION 'the parts of a recipe add up to a kilogram'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'recipes_add_up', TABLE = 'recipes';
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE CONSTRAINT TRIGGER recipes_add_up AFTER INSERT ON "recipes" DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_recipe_sum();
--> statement-breakpoint
CREATE CONSTRAINT TRIGGER recipe_parts_add_up AFTER INSERT ON "recipe_parts" DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_recipe_sum();
