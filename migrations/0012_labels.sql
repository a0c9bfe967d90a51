-- Labels: who stands on them and by whose rules, the sheets they are printed on, and what a product declares and is numbered by.
CREATE TABLE "label_maker" (
	"id" smallint PRIMARY KEY DEFAULT 1 NOT NULL,
	"market" text NOT NULL,
	"maker_name" text NOT NULL,
	"maker_place" text NOT NULL,
	"contact" text NOT NULL,
	"adults_only" boolean NOT NULL,
	"gs1_prefix" text,
	CONSTRAINT "label_maker_only_one" CHECK ("label_maker"."id" = 1),
	CONSTRAINT "label_maker_market_known" CHECK ("label_maker"."market" in ('us', 'eu', 'uk', 'none')),
	CONSTRAINT "label_maker_prefix_form" CHECK ("label_maker"."gs1_prefix" ~ '^[0-9]{6,11}$')
);
--> statement-breakpoint
CREATE TABLE "label_sheets" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "label_sheets_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"name" text NOT NULL,
	"unit" text NOT NULL,
	"paper_width_micrometres" integer NOT NULL,
	"paper_height_micrometres" integer NOT NULL,
	"columns" integer NOT NULL,
	"rows" integer NOT NULL,
	"label_width_micrometres" integer NOT NULL,
	"label_height_micrometres" integer NOT NULL,
	"margin_left_micrometres" integer NOT NULL,
	"margin_top_micrometres" integer NOT NULL,
	"gap_across_micrometres" integer NOT NULL,
	"gap_down_micrometres" integer NOT NULL,
	"is_round" boolean NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "label_sheets_name_given" CHECK (length(trim("label_sheets"."name")) between 1 and 80),
	CONSTRAINT "label_sheets_unit_known" CHECK ("label_sheets"."unit" in ('mm', 'in')),
	CONSTRAINT "label_sheets_counts" CHECK ("label_sheets"."columns" between 1 and 50 and "label_sheets"."rows" between 1 and 100),
	CONSTRAINT "label_sheets_lengths" CHECK ("label_sheets"."label_width_micrometres" > 0 and "label_sheets"."label_height_micrometres" > 0 and "label_sheets"."margin_left_micrometres" >= 0
        and "label_sheets"."margin_top_micrometres" >= 0 and "label_sheets"."gap_across_micrometres" >= 0 and "label_sheets"."gap_down_micrometres" >= 0),
	CONSTRAINT "label_sheets_on_the_paper" CHECK ("label_sheets"."margin_left_micrometres" + "label_sheets"."columns" * "label_sheets"."label_width_micrometres"
          + ("label_sheets"."columns" - 1) * "label_sheets"."gap_across_micrometres" <= "label_sheets"."paper_width_micrometres"
        and "label_sheets"."margin_top_micrometres" + "label_sheets"."rows" * "label_sheets"."label_height_micrometres"
          + ("label_sheets"."rows" - 1) * "label_sheets"."gap_down_micrometres" <= "label_sheets"."paper_height_micrometres"
        and "label_sheets"."paper_width_micrometres" <= 1300000 and "label_sheets"."paper_height_micrometres" <= 1300000)
);
--> statement-breakpoint
ALTER TABLE "products" ADD COLUMN "declared_milligrams" integer;--> statement-breakpoint
ALTER TABLE "products" ADD COLUMN "gs1_number" integer;--> statement-breakpoint
CREATE UNIQUE INDEX "label_sheets_name_unique" ON "label_sheets" USING btree (lower("name"));--> statement-breakpoint
ALTER TABLE "products" ADD CONSTRAINT "products_gs1_number_unique" UNIQUE("gs1_number");--> statement-breakpoint
ALTER TABLE "products" ADD CONSTRAINT "products_declared" CHECK ("products"."declared_milligrams" > 0);--> statement-breakpoint
ALTER TABLE "products" ADD CONSTRAINT "products_gs1_number" CHECK ("products"."gs1_number" between 0 and 999999);