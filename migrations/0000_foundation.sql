-- The foundation: generated from db/schema, where every table and constraint says what it is for.
CREATE TABLE "changes" (
	"id" bigint PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "changes_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"at" timestamp with time zone NOT NULL,
	"person_id" integer,
	"subject" text NOT NULL,
	"subject_id" integer NOT NULL,
	"what" text NOT NULL,
	"before" jsonb,
	"after" jsonb
);
--> statement-breakpoint
CREATE TABLE "form_receipts" (
	"form_token" uuid PRIMARY KEY NOT NULL,
	"person_id" integer,
	"action" text NOT NULL,
	"location" text,
	"at" timestamp with time zone NOT NULL,
	CONSTRAINT "form_receipts_action_given" CHECK (length("form_receipts"."action") > 0)
);
--> statement-breakpoint
CREATE TABLE "customers" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "customers_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"name" text NOT NULL,
	"kind" text NOT NULL,
	"takes_part_deliveries" boolean DEFAULT false NOT NULL,
	"priority_weight" numeric(5, 2) DEFAULT 1 NOT NULL,
	"contact_name" text DEFAULT '' NOT NULL,
	"email" text DEFAULT '' NOT NULL,
	"phone" text DEFAULT '' NOT NULL,
	"address" text DEFAULT '' NOT NULL,
	"notes" text DEFAULT '' NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "customers_kind_known" CHECK ("customers"."kind" in ('shop', 'market')),
	CONSTRAINT "customers_name_given" CHECK (length(trim("customers"."name")) > 0),
	CONSTRAINT "customers_weight_range" CHECK ("customers"."priority_weight" > 0 and "customers"."priority_weight" <= 100),
	CONSTRAINT "customers_markets_take_no_parts" CHECK (not ("customers"."kind" = 'market' and "customers"."takes_part_deliveries"))
);
--> statement-breakpoint
CREATE TABLE "deliveries" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "deliveries_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"order_id" integer NOT NULL,
	"how" text NOT NULL,
	"carrier" text DEFAULT '' NOT NULL,
	"tracking" text DEFAULT '' NOT NULL,
	"state" text NOT NULL,
	"shipped_at" timestamp with time zone NOT NULL,
	"delivered_at" timestamp with time zone,
	CONSTRAINT "deliveries_how_known" CHECK ("deliveries"."how" in ('parcel', 'local-round', 'collected', 'market-crate')),
	CONSTRAINT "deliveries_state_known" CHECK ("deliveries"."state" in ('shipped', 'delivered')),
	CONSTRAINT "deliveries_delivered_has_its_time" CHECK (("deliveries"."state" = 'delivered') = ("deliveries"."delivered_at" is not null))
);
--> statement-breakpoint
CREATE TABLE "delivery_lines" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "delivery_lines_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"delivery_id" integer NOT NULL,
	"order_line_id" integer NOT NULL,
	"lot_id" integer NOT NULL,
	"units" integer NOT NULL,
	CONSTRAINT "delivery_lines_units" CHECK ("delivery_lines"."units" > 0)
);
--> statement-breakpoint
CREATE TABLE "lots" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "lots_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"code" text NOT NULL,
	"product_id" integer NOT NULL,
	"run_id" integer,
	"state" text NOT NULL,
	"planned_units" integer,
	"trays" integer NOT NULL,
	"created_at" timestamp with time zone NOT NULL,
	"formed_at" timestamp with time zone,
	"unmold_due_at" timestamp with time zone,
	"ready_due_at" timestamp with time zone,
	"unmolded_at" timestamp with time zone,
	"ready_at" timestamp with time zone,
	CONSTRAINT "lots_code_unique" UNIQUE("code"),
	CONSTRAINT "lots_code_form" CHECK ("lots"."code" ~ '^[A-Z0-9]{3,8}$'),
	CONSTRAINT "lots_state_known" CHECK ("lots"."state" in ('planned', 'mixing', 'drying', 'resting', 'ready', 'withdrawn')),
	CONSTRAINT "lots_units" CHECK ("lots"."planned_units" is null or "lots"."planned_units" between 1 and 100000),
	CONSTRAINT "lots_trays" CHECK ("lots"."trays" >= 0),
	CONSTRAINT "lots_planned_from_a_run" CHECK (("lots"."planned_units" is null) = ("lots"."run_id" is null)),
	CONSTRAINT "lots_formed_has_its_time" CHECK (("lots"."state" in ('drying', 'resting', 'ready')) = ("lots"."formed_at" is not null)),
	CONSTRAINT "lots_drying_has_its_times" CHECK (("lots"."formed_at" is null) = ("lots"."unmold_due_at" is null) and ("lots"."formed_at" is null) = ("lots"."ready_due_at" is null)),
	CONSTRAINT "lots_unmolded_has_its_time" CHECK (("lots"."state" in ('resting', 'ready')) = ("lots"."unmolded_at" is not null)),
	CONSTRAINT "lots_ready_has_its_time" CHECK (("lots"."state" = 'ready') = ("lots"."ready_at" is not null))
);
--> statement-breakpoint
CREATE TABLE "moves" (
	"id" bigint PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "moves_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"lot_id" integer NOT NULL,
	"kind" text NOT NULL,
	"units" integer NOT NULL,
	"cause" text,
	"order_line_id" integer,
	"delivery_id" integer,
	"note" text DEFAULT '' NOT NULL,
	"at" timestamp with time zone NOT NULL,
	"person_id" integer,
	CONSTRAINT "moves_kind_known" CHECK ("moves"."kind" in ('made', 'packed', 'unpacked', 'lost', 'counted', 'returned')),
	CONSTRAINT "moves_sign" CHECK (case when "moves"."kind" in ('made', 'unpacked', 'returned') then "moves"."units" > 0
        when "moves"."kind" in ('packed', 'lost') then "moves"."units" < 0 else "moves"."units" <> 0 end),
	CONSTRAINT "moves_lost_has_its_cause" CHECK (("moves"."kind" = 'lost') = ("moves"."cause" is not null)),
	CONSTRAINT "moves_cause_known" CHECK ("moves"."cause" in ('cracked', 'stuck', 'swollen', 'sample')),
	CONSTRAINT "moves_packed_for_a_line" CHECK (("moves"."kind" in ('packed', 'unpacked')) = ("moves"."order_line_id" is not null)),
	CONSTRAINT "moves_returned_from_a_delivery" CHECK (("moves"."kind" = 'returned') = ("moves"."delivery_id" is not null))
);
--> statement-breakpoint
CREATE TABLE "order_lines" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "order_lines_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"order_id" integer NOT NULL,
	"product_id" integer NOT NULL,
	"units" integer NOT NULL,
	CONSTRAINT "order_lines_product_once" UNIQUE("order_id","product_id"),
	CONSTRAINT "order_lines_units" CHECK ("order_lines"."units" between 0 and 100000)
);
--> statement-breakpoint
CREATE TABLE "orders" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "orders_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"reference" text NOT NULL,
	"customer_id" integer NOT NULL,
	"terms" text NOT NULL,
	"ship_by" date NOT NULL,
	"weight" numeric(5, 2) NOT NULL,
	"state" text NOT NULL,
	"note" text DEFAULT '' NOT NULL,
	"created_at" timestamp with time zone NOT NULL,
	"confirmed_at" timestamp with time zone,
	"packed_at" timestamp with time zone,
	"shipped_at" timestamp with time zone,
	"delivered_at" timestamp with time zone,
	"cancelled_at" timestamp with time zone,
	CONSTRAINT "orders_reference_unique" UNIQUE("reference"),
	CONSTRAINT "orders_terms_known" CHECK ("orders"."terms" in ('complete', 'as-ready', 'market')),
	CONSTRAINT "orders_state_known" CHECK ("orders"."state" in ('draft', 'confirmed', 'packing', 'packed', 'shipped', 'delivered', 'cancelled')),
	CONSTRAINT "orders_weight_range" CHECK ("orders"."weight" > 0 and "orders"."weight" <= 100),
	CONSTRAINT "orders_reference_given" CHECK (length(trim("orders"."reference")) between 1 and 40),
	CONSTRAINT "orders_confirmed_has_its_time" CHECK (case "orders"."state" when 'draft' then "orders"."confirmed_at" is null when 'cancelled' then true else "orders"."confirmed_at" is not null end),
	CONSTRAINT "orders_packed_has_its_time" CHECK (("orders"."state" in ('packed', 'shipped', 'delivered')) = ("orders"."packed_at" is not null)),
	CONSTRAINT "orders_shipped_has_its_time" CHECK (("orders"."state" in ('shipped', 'delivered')) = ("orders"."shipped_at" is not null)),
	CONSTRAINT "orders_delivered_has_its_time" CHECK (("orders"."state" = 'delivered') = ("orders"."delivered_at" is not null)),
	CONSTRAINT "orders_cancelled_has_its_time" CHECK (("orders"."state" = 'cancelled') = ("orders"."cancelled_at" is not null))
);
--> statement-breakpoint
CREATE TABLE "people" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "people_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"name" text NOT NULL,
	"email" text NOT NULL,
	"role" text NOT NULL,
	"password_hash" text NOT NULL,
	"created_at" timestamp with time zone NOT NULL,
	"left_at" timestamp with time zone,
	CONSTRAINT "people_role_known" CHECK ("people"."role" in ('owner', 'helper')),
	CONSTRAINT "people_name_given" CHECK (length(trim("people"."name")) between 1 and 80)
);
--> statement-breakpoint
CREATE TABLE "sign_ins" (
	"id_hash" text PRIMARY KEY NOT NULL,
	"person_id" integer,
	"data" jsonb NOT NULL,
	"created_at" timestamp with time zone NOT NULL,
	"expires_at" timestamp with time zone NOT NULL,
	CONSTRAINT "sign_ins_expire_later" CHECK ("sign_ins"."expires_at" > "sign_ins"."created_at")
);
--> statement-breakpoint
CREATE TABLE "plans" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "plans_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"state" text NOT NULL,
	"plan_case" jsonb NOT NULL,
	"answer" jsonb NOT NULL,
	"hold_ups" jsonb NOT NULL,
	"session_instants" jsonb NOT NULL,
	"seed" integer NOT NULL,
	"engine_version" text NOT NULL,
	"as_of_change" bigint NOT NULL,
	"planned_at" timestamp with time zone NOT NULL,
	"planned_by" integer NOT NULL,
	"accepted_at" timestamp with time zone,
	"accepted_by" integer,
	CONSTRAINT "plans_state_known" CHECK ("plans"."state" in ('proposed', 'accepted', 'superseded')),
	CONSTRAINT "plans_accepted_has_its_time" CHECK (("plans"."state" = 'proposed') = ("plans"."accepted_at" is null) and ("plans"."accepted_at" is null) = ("plans"."accepted_by" is null))
);
--> statement-breakpoint
CREATE TABLE "runs" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "runs_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"plan_id" integer NOT NULL,
	"blend_id" integer NOT NULL,
	"session_date" date NOT NULL,
	"session_starts_at" timestamp with time zone NOT NULL,
	"session_ends_at" timestamp with time zone NOT NULL,
	"bowls" integer NOT NULL,
	"drying_factor" numeric(4, 2) NOT NULL,
	"state" text NOT NULL,
	"started_at" timestamp with time zone,
	"formed_at" timestamp with time zone,
	CONSTRAINT "runs_state_known" CHECK ("runs"."state" in ('planned', 'mixing', 'formed', 'withdrawn')),
	CONSTRAINT "runs_bowls" CHECK ("runs"."bowls" between 1 and 10000),
	CONSTRAINT "runs_session_times" CHECK ("runs"."session_starts_at" < "runs"."session_ends_at"),
	CONSTRAINT "runs_started_has_its_time" CHECK (("runs"."state" in ('mixing', 'formed')) = ("runs"."started_at" is not null)),
	CONSTRAINT "runs_formed_has_its_time" CHECK (("runs"."state" = 'formed') = ("runs"."formed_at" is not null))
);
--> statement-breakpoint
CREATE TABLE "blends" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "blends_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"code" text NOT NULL,
	"name" text NOT NULL,
	"colour" text NOT NULL,
	"pattern" text NOT NULL,
	"shade" numeric(3, 2) NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "blends_code_unique" UNIQUE("code"),
	CONSTRAINT "blends_code_form" CHECK ("blends"."code" ~ '^[a-z0-9]+(-[a-z0-9]+)*$' and length("blends"."code") <= 40),
	CONSTRAINT "blends_colour_form" CHECK ("blends"."colour" ~ '^#[0-9a-f]{6}$'),
	CONSTRAINT "blends_shade_range" CHECK ("blends"."shade" between 0 and 1),
	CONSTRAINT "blends_pattern_known" CHECK ("blends"."pattern" in ('plain', 'dots', 'lines', 'grid', 'waves', 'crosses', 'flecks', 'rings'))
);
--> statement-breakpoint
CREATE TABLE "products" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "products_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"code" text NOT NULL,
	"name" text NOT NULL,
	"blend_id" integer NOT NULL,
	"shape_id" integer NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "products_code_unique" UNIQUE("code"),
	CONSTRAINT "products_one_per_blend_and_shape" UNIQUE("blend_id","shape_id"),
	CONSTRAINT "products_name_given" CHECK (length(trim("products"."name")) > 0)
);
--> statement-breakpoint
CREATE TABLE "calendar_exceptions" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "calendar_exceptions_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"on_date" date NOT NULL,
	"kind" text NOT NULL,
	"starts_minute" smallint,
	"ends_minute" smallint,
	"hand_minutes" integer,
	"mixing" boolean,
	"drying_factor" numeric(4, 2),
	"note" text DEFAULT '' NOT NULL,
	CONSTRAINT "calendar_exceptions_kind_known" CHECK ("calendar_exceptions"."kind" in ('day-off', 'extra', 'damp')),
	CONSTRAINT "calendar_exceptions_extra_is_a_session" CHECK (case when "calendar_exceptions"."kind" = 'extra'
        then "calendar_exceptions"."starts_minute" >= 60 and "calendar_exceptions"."ends_minute" <= 1380 and "calendar_exceptions"."starts_minute" < "calendar_exceptions"."ends_minute"
          and "calendar_exceptions"."hand_minutes" between 0 and 100000 and "calendar_exceptions"."mixing" is not null
          and num_nulls("calendar_exceptions"."starts_minute", "calendar_exceptions"."ends_minute", "calendar_exceptions"."hand_minutes") = 0
        else num_nonnulls("calendar_exceptions"."starts_minute", "calendar_exceptions"."ends_minute", "calendar_exceptions"."hand_minutes", "calendar_exceptions"."mixing") = 0 end),
	CONSTRAINT "calendar_exceptions_damp_has_its_factor" CHECK (case when "calendar_exceptions"."kind" = 'damp'
        then "calendar_exceptions"."drying_factor" is not null and "calendar_exceptions"."drying_factor" between 0.25 and 10
        else "calendar_exceptions"."drying_factor" is null end)
);
--> statement-breakpoint
CREATE TABLE "shapes" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "shapes_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"code" text NOT NULL,
	"name" text NOT NULL,
	"mold_sets" integer NOT NULL,
	"dries_in" text NOT NULL,
	"mold_minutes" integer NOT NULL,
	"rest_minutes" integer NOT NULL,
	"units_per_tray" integer NOT NULL,
	"piece_milligrams" integer NOT NULL,
	"form_seconds" numeric(7, 2) NOT NULL,
	"turn_seconds" numeric(7, 2) NOT NULL,
	"unmold_seconds" numeric(7, 2) NOT NULL,
	"pack_seconds" numeric(7, 2) NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "shapes_code_unique" UNIQUE("code"),
	CONSTRAINT "shapes_code_form" CHECK ("shapes"."code" ~ '^[a-z0-9]+(-[a-z0-9]+)*$' and length("shapes"."code") <= 40),
	CONSTRAINT "shapes_dries_in_known" CHECK ("shapes"."dries_in" in ('half', 'whole', 'none')),
	CONSTRAINT "shapes_counts" CHECK ("shapes"."mold_sets" between 0 and 100000 and "shapes"."units_per_tray" between 1 and 10000 and "shapes"."piece_milligrams" > 0),
	CONSTRAINT "shapes_hours" CHECK ("shapes"."mold_minutes" >= 0 and "shapes"."rest_minutes" >= 0),
	CONSTRAINT "shapes_seconds" CHECK ("shapes"."form_seconds" >= 0 and "shapes"."turn_seconds" >= 0 and "shapes"."unmold_seconds" >= 0 and "shapes"."pack_seconds" >= 0)
);
--> statement-breakpoint
CREATE TABLE "week_sessions" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "week_sessions_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"weekday" smallint NOT NULL,
	"starts_minute" smallint NOT NULL,
	"ends_minute" smallint NOT NULL,
	"hand_minutes" integer NOT NULL,
	"mixing" boolean NOT NULL,
	CONSTRAINT "week_sessions_weekday" CHECK ("week_sessions"."weekday" between 1 and 7),
	CONSTRAINT "week_sessions_times" CHECK ("week_sessions"."starts_minute" >= 60 and "week_sessions"."ends_minute" <= 1380 and "week_sessions"."starts_minute" < "week_sessions"."ends_minute"),
	CONSTRAINT "week_sessions_hands" CHECK ("week_sessions"."hand_minutes" between 0 and 100000)
);
--> statement-breakpoint
CREATE TABLE "workshop" (
	"id" smallint PRIMARY KEY DEFAULT 1 NOT NULL,
	"name" text NOT NULL,
	"time_zone" text NOT NULL,
	"trays" integer NOT NULL,
	"mixers" integer NOT NULL,
	"bowl_milligrams" integer NOT NULL,
	"min_bowl_milligrams" integer NOT NULL,
	"bowl_minutes" integer NOT NULL,
	"mix_minutes" numeric(6, 2) NOT NULL,
	"clean_minutes" numeric(6, 2) NOT NULL,
	"horizon_days" integer NOT NULL,
	"created_at" timestamp with time zone NOT NULL,
	CONSTRAINT "workshop_only_one" CHECK ("workshop"."id" = 1),
	CONSTRAINT "workshop_counts" CHECK ("workshop"."trays" between 0 and 10000 and "workshop"."mixers" between 0 and 100),
	CONSTRAINT "workshop_bowl" CHECK ("workshop"."bowl_milligrams" > 0 and "workshop"."min_bowl_milligrams" >= 0 and "workshop"."min_bowl_milligrams" <= "workshop"."bowl_milligrams"),
	CONSTRAINT "workshop_minutes" CHECK ("workshop"."bowl_minutes" > 0 and "workshop"."mix_minutes" >= 0 and "workshop"."clean_minutes" >= 0),
	CONSTRAINT "workshop_horizon" CHECK ("workshop"."horizon_days" between 3 and 120)
);
--> statement-breakpoint
ALTER TABLE "changes" ADD CONSTRAINT "changes_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "form_receipts" ADD CONSTRAINT "form_receipts_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_order_id_orders_id_fk" FOREIGN KEY ("order_id") REFERENCES "public"."orders"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "delivery_lines" ADD CONSTRAINT "delivery_lines_delivery_id_deliveries_id_fk" FOREIGN KEY ("delivery_id") REFERENCES "public"."deliveries"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "delivery_lines" ADD CONSTRAINT "delivery_lines_order_line_id_order_lines_id_fk" FOREIGN KEY ("order_line_id") REFERENCES "public"."order_lines"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "delivery_lines" ADD CONSTRAINT "delivery_lines_lot_id_lots_id_fk" FOREIGN KEY ("lot_id") REFERENCES "public"."lots"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "lots" ADD CONSTRAINT "lots_product_id_products_id_fk" FOREIGN KEY ("product_id") REFERENCES "public"."products"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "lots" ADD CONSTRAINT "lots_run_id_runs_id_fk" FOREIGN KEY ("run_id") REFERENCES "public"."runs"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "moves" ADD CONSTRAINT "moves_lot_id_lots_id_fk" FOREIGN KEY ("lot_id") REFERENCES "public"."lots"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "moves" ADD CONSTRAINT "moves_order_line_id_order_lines_id_fk" FOREIGN KEY ("order_line_id") REFERENCES "public"."order_lines"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "moves" ADD CONSTRAINT "moves_delivery_id_deliveries_id_fk" FOREIGN KEY ("delivery_id") REFERENCES "public"."deliveries"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "moves" ADD CONSTRAINT "moves_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "order_lines" ADD CONSTRAINT "order_lines_order_id_orders_id_fk" FOREIGN KEY ("order_id") REFERENCES "public"."orders"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "order_lines" ADD CONSTRAINT "order_lines_product_id_products_id_fk" FOREIGN KEY ("product_id") REFERENCES "public"."products"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "sign_ins" ADD CONSTRAINT "sign_ins_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "plans" ADD CONSTRAINT "plans_planned_by_people_id_fk" FOREIGN KEY ("planned_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "plans" ADD CONSTRAINT "plans_accepted_by_people_id_fk" FOREIGN KEY ("accepted_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "runs" ADD CONSTRAINT "runs_plan_id_plans_id_fk" FOREIGN KEY ("plan_id") REFERENCES "public"."plans"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "runs" ADD CONSTRAINT "runs_blend_id_blends_id_fk" FOREIGN KEY ("blend_id") REFERENCES "public"."blends"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "products" ADD CONSTRAINT "products_blend_id_blends_id_fk" FOREIGN KEY ("blend_id") REFERENCES "public"."blends"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "products" ADD CONSTRAINT "products_shape_id_shapes_id_fk" FOREIGN KEY ("shape_id") REFERENCES "public"."shapes"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "changes_by_subject" ON "changes" USING btree ("subject","subject_id","id");--> statement-breakpoint
CREATE UNIQUE INDEX "customers_name_unique" ON "customers" USING btree (lower("name"));--> statement-breakpoint
CREATE INDEX "deliveries_by_order" ON "deliveries" USING btree ("order_id","id");--> statement-breakpoint
CREATE INDEX "delivery_lines_by_delivery" ON "delivery_lines" USING btree ("delivery_id","id");--> statement-breakpoint
CREATE INDEX "delivery_lines_by_order_line" ON "delivery_lines" USING btree ("order_line_id","lot_id");--> statement-breakpoint
CREATE INDEX "delivery_lines_by_lot" ON "delivery_lines" USING btree ("lot_id");--> statement-breakpoint
CREATE INDEX "lots_by_product_and_state" ON "lots" USING btree ("product_id","state","ready_at","id");--> statement-breakpoint
CREATE INDEX "lots_by_run" ON "lots" USING btree ("run_id");--> statement-breakpoint
CREATE INDEX "moves_by_lot" ON "moves" USING btree ("lot_id");--> statement-breakpoint
CREATE INDEX "moves_by_order_line" ON "moves" USING btree ("order_line_id","lot_id");--> statement-breakpoint
CREATE UNIQUE INDEX "orders_reference_unique_in_any_case" ON "orders" USING btree (lower("reference"));--> statement-breakpoint
CREATE INDEX "orders_by_ship_by" ON "orders" USING btree ("state","ship_by","id");--> statement-breakpoint
CREATE INDEX "orders_by_customer" ON "orders" USING btree ("customer_id","id");--> statement-breakpoint
CREATE UNIQUE INDEX "people_email_unique" ON "people" USING btree (lower("email"));--> statement-breakpoint
CREATE INDEX "sign_ins_by_end" ON "sign_ins" USING btree ("expires_at");--> statement-breakpoint
CREATE INDEX "sign_ins_by_person" ON "sign_ins" USING btree ("person_id");--> statement-breakpoint
CREATE UNIQUE INDEX "plans_one_accepted" ON "plans" USING btree ("state") WHERE "plans"."state" = 'accepted';--> statement-breakpoint
CREATE UNIQUE INDEX "runs_one_planned_per_blend_and_session" ON "runs" USING btree ("blend_id","session_starts_at") WHERE "runs"."state" = 'planned';--> statement-breakpoint
CREATE UNIQUE INDEX "calendar_exceptions_once_a_date" ON "calendar_exceptions" USING btree ("on_date","kind") WHERE "calendar_exceptions"."kind" <> 'extra';--> statement-breakpoint
CREATE VIEW "public"."line_progress" AS (
  select order_lines.id as order_line_id, order_lines.order_id, order_lines.product_id,
    order_lines.units as ordered_units,
    coalesce((select -sum(moves.units) from moves where moves.order_line_id = order_lines.id
      and moves.kind in ('packed', 'unpacked')), 0)::integer as packed_units,
    coalesce((select sum(delivery_lines.units) from delivery_lines
      where delivery_lines.order_line_id = order_lines.id), 0)::integer as shipped_units
  from order_lines);--> statement-breakpoint
CREATE VIEW "public"."lot_balances" AS (
  select lots.id as lot_id,
    coalesce((select sum(moves.units) from moves where moves.lot_id = lots.id), 0)::integer as units
  from lots);