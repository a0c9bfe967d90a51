-- Prices, tax and terms; contacts and case packs; standing orders; shops' own order pages; markets; what texts in order
-- files mean. Generated from db/schema, where every table and constraint says what it is for.
CREATE TABLE "case_packs" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "case_packs_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"shape_id" integer NOT NULL,
	"customer_id" integer,
	"units" integer NOT NULL,
	CONSTRAINT "case_packs_units" CHECK ("case_packs"."units" between 1 and 10000)
);
--> statement-breakpoint
CREATE TABLE "customer_contacts" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "customer_contacts_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"customer_id" integer NOT NULL,
	"name" text NOT NULL,
	"role" text DEFAULT '' NOT NULL,
	"phone" text DEFAULT '' NOT NULL,
	"email" text DEFAULT '' NOT NULL,
	CONSTRAINT "customer_contacts_somebody" CHECK (length(trim("customer_contacts"."name" || "customer_contacts"."phone" || "customer_contacts"."email")) > 0)
);
--> statement-breakpoint
CREATE TABLE "file_meanings" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "file_meanings_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"what" text NOT NULL,
	"written_as" text NOT NULL,
	"meaning" text NOT NULL,
	"customer_id" integer,
	"product_id" integer,
	"decided_at" timestamp with time zone NOT NULL,
	"decided_by" integer NOT NULL,
	CONSTRAINT "file_meanings_what_known" CHECK ("file_meanings"."what" in ('customer', 'product')),
	CONSTRAINT "file_meanings_meaning_known" CHECK ("file_meanings"."meaning" in ('match', 'leave-out')),
	CONSTRAINT "file_meanings_text_given" CHECK ("file_meanings"."written_as" = trim("file_meanings"."written_as") and length("file_meanings"."written_as") between 1 and 200),
	CONSTRAINT "file_meanings_match_one_thing" CHECK (("file_meanings"."what" = 'customer' and "file_meanings"."meaning" = 'match') = ("file_meanings"."customer_id" is not null)
        and ("file_meanings"."what" = 'product' and "file_meanings"."meaning" = 'match') = ("file_meanings"."product_id" is not null))
);
--> statement-breakpoint
CREATE TABLE "market_counts" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "market_counts_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"market_id" integer NOT NULL,
	"product_id" integer NOT NULL,
	"taken_units" integer NOT NULL,
	"home_units" integer NOT NULL,
	"given_away_units" integer DEFAULT 0 NOT NULL,
	"sold_out_minute" smallint,
	CONSTRAINT "market_counts_product_once" UNIQUE("market_id","product_id"),
	CONSTRAINT "market_counts_add_up" CHECK ("market_counts"."taken_units" between 0 and 100000 and "market_counts"."home_units" >= 0 and "market_counts"."given_away_units" >= 0
        and "market_counts"."home_units" + "market_counts"."given_away_units" <= "market_counts"."taken_units"),
	CONSTRAINT "market_counts_sold_out" CHECK ("market_counts"."sold_out_minute" is null or ("market_counts"."sold_out_minute" between 0 and 1440 and "market_counts"."home_units" = 0 and "market_counts"."taken_units" > 0))
);
--> statement-breakpoint
CREATE TABLE "market_habits" (
	"customer_id" integer PRIMARY KEY NOT NULL,
	"kind" text DEFAULT '' NOT NULL,
	"place" text DEFAULT '' NOT NULL,
	"opens_minute" smallint NOT NULL,
	"closes_minute" smallint NOT NULL,
	"fee_minor" bigint DEFAULT 0 NOT NULL,
	"loading_minutes" smallint DEFAULT 0 NOT NULL,
	"rule" text,
	"starts_on" date,
	"ends_on" date,
	CONSTRAINT "market_habits_hours" CHECK ("market_habits"."opens_minute" >= 0 and "market_habits"."opens_minute" < "market_habits"."closes_minute" and "market_habits"."closes_minute" <= 1440),
	CONSTRAINT "market_habits_fee" CHECK ("market_habits"."fee_minor" between 0 and 1000000000),
	CONSTRAINT "market_habits_loading" CHECK ("market_habits"."loading_minutes" between 0 and 1440),
	CONSTRAINT "market_habits_rule_form" CHECK ("market_habits"."rule" ~ '^FREQ=[A-Z]+(\x3b[A-Z]+=[A-Z0-9,+-]+)*$' and length("market_habits"."rule") <= 200),
	CONSTRAINT "market_habits_rule_has_its_start" CHECK (("market_habits"."rule" is null) = ("market_habits"."starts_on" is null)),
	CONSTRAINT "market_habits_ends_later" CHECK ("market_habits"."ends_on" is null or ("market_habits"."starts_on" is not null and "market_habits"."ends_on" >= "market_habits"."starts_on"))
);
--> statement-breakpoint
CREATE TABLE "markets" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "markets_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"customer_id" integer NOT NULL,
	"held_on" date NOT NULL,
	"kind" text DEFAULT '' NOT NULL,
	"place" text DEFAULT '' NOT NULL,
	"opens_minute" smallint NOT NULL,
	"closes_minute" smallint NOT NULL,
	"fee_minor" bigint DEFAULT 0 NOT NULL,
	"loading_minutes" smallint DEFAULT 0 NOT NULL,
	"note" text DEFAULT '' NOT NULL,
	"order_id" integer,
	"created_at" timestamp with time zone NOT NULL,
	"counted_at" timestamp with time zone,
	"called_off_at" timestamp with time zone,
	CONSTRAINT "markets_once_a_day" UNIQUE("customer_id","held_on"),
	CONSTRAINT "markets_hours" CHECK ("markets"."opens_minute" >= 0 and "markets"."opens_minute" < "markets"."closes_minute" and "markets"."closes_minute" <= 1440),
	CONSTRAINT "markets_fee" CHECK ("markets"."fee_minor" between 0 and 1000000000),
	CONSTRAINT "markets_loading" CHECK ("markets"."loading_minutes" between 0 and 1440),
	CONSTRAINT "markets_counted_or_called_off" CHECK ("markets"."counted_at" is null or "markets"."called_off_at" is null)
);
--> statement-breakpoint
CREATE TABLE "price_lists" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "price_lists_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"name" text NOT NULL,
	"kind" text NOT NULL,
	"includes_tax" boolean NOT NULL,
	"usual" boolean DEFAULT false NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "price_lists_name_given" CHECK (length(trim("price_lists"."name")) between 1 and 80),
	CONSTRAINT "price_lists_kind_known" CHECK ("price_lists"."kind" in ('retail', 'wholesale')),
	CONSTRAINT "price_lists_usual_is_in_use" CHECK (not ("price_lists"."usual" and "price_lists"."retired_at" is not null))
);
--> statement-breakpoint
CREATE TABLE "list_prices" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "list_prices_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"price_list_id" integer NOT NULL,
	"product_id" integer NOT NULL,
	"valid_from" date NOT NULL,
	"unit_price_minor" bigint,
	CONSTRAINT "list_prices_one_a_day" UNIQUE("price_list_id","product_id","valid_from"),
	CONSTRAINT "list_prices_range" CHECK ("list_prices"."unit_price_minor" between 0 and 10000000)
);
--> statement-breakpoint
CREATE TABLE "own_prices" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "own_prices_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"customer_id" integer NOT NULL,
	"product_id" integer NOT NULL,
	"valid_from" date NOT NULL,
	"unit_price_minor" bigint,
	CONSTRAINT "own_prices_one_a_day" UNIQUE("customer_id","product_id","valid_from"),
	CONSTRAINT "own_prices_range" CHECK ("own_prices"."unit_price_minor" between 0 and 10000000)
);
--> statement-breakpoint
CREATE TABLE "standing_order_dates" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "standing_order_dates_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"standing_order_id" integer NOT NULL,
	"on_date" date NOT NULL,
	"outcome" text NOT NULL,
	"order_id" integer,
	"at" timestamp with time zone NOT NULL,
	CONSTRAINT "standing_order_dates_once" UNIQUE("standing_order_id","on_date"),
	CONSTRAINT "standing_order_dates_outcome_known" CHECK ("standing_order_dates"."outcome" in ('drafted', 'left-out')),
	CONSTRAINT "standing_order_dates_drafted_has_its_order" CHECK (("standing_order_dates"."outcome" = 'drafted') = ("standing_order_dates"."order_id" is not null))
);
--> statement-breakpoint
CREATE TABLE "standing_order_lines" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "standing_order_lines_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"standing_order_id" integer NOT NULL,
	"product_id" integer NOT NULL,
	"units" integer NOT NULL,
	CONSTRAINT "standing_order_lines_product_once" UNIQUE("standing_order_id","product_id"),
	CONSTRAINT "standing_order_lines_units" CHECK ("standing_order_lines"."units" between 1 and 100000)
);
--> statement-breakpoint
CREATE TABLE "standing_order_pauses" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "standing_order_pauses_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"standing_order_id" integer NOT NULL,
	"first_date" date NOT NULL,
	"last_date" date,
	CONSTRAINT "standing_order_pauses_in_order" CHECK ("standing_order_pauses"."last_date" >= "standing_order_pauses"."first_date")
);
--> statement-breakpoint
CREATE TABLE "standing_orders" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "standing_orders_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"customer_id" integer NOT NULL,
	"rule" text NOT NULL,
	"starts_on" date NOT NULL,
	"ends_on" date,
	"days_before" smallint NOT NULL,
	"note" text DEFAULT '' NOT NULL,
	"created_at" timestamp with time zone NOT NULL,
	"created_by" integer NOT NULL,
	"stopped_at" timestamp with time zone,
	CONSTRAINT "standing_orders_rule_form" CHECK ("standing_orders"."rule" ~ '^FREQ=[A-Z]+(\x3b[A-Z]+=[A-Z0-9,+-]+)*$' and length("standing_orders"."rule") <= 200),
	CONSTRAINT "standing_orders_ends_later" CHECK ("standing_orders"."ends_on" >= "standing_orders"."starts_on"),
	CONSTRAINT "standing_orders_days_before" CHECK ("standing_orders"."days_before" between 0 and 120)
);
--> statement-breakpoint
CREATE TABLE "stockist_links" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "stockist_links_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"customer_id" integer NOT NULL,
	"token_hash" text NOT NULL,
	"made_at" timestamp with time zone NOT NULL,
	"made_by" integer NOT NULL,
	"withdrawn_at" timestamp with time zone,
	"withdrawn_by" integer,
	CONSTRAINT "stockist_links_tokenHash_unique" UNIQUE("token_hash"),
	CONSTRAINT "stockist_links_hash_form" CHECK ("stockist_links"."token_hash" ~ '^[0-9a-f]{64}$'),
	CONSTRAINT "stockist_links_withdrawn_by_somebody" CHECK (("stockist_links"."withdrawn_at" is null) = ("stockist_links"."withdrawn_by" is null))
);
--> statement-breakpoint
CREATE TABLE "tax_groups" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "tax_groups_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"name" text NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "tax_groups_name_given" CHECK (length(trim("tax_groups"."name")) between 1 and 80)
);
--> statement-breakpoint
CREATE TABLE "tax_rates" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "tax_rates_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"tax_group_id" integer NOT NULL,
	"valid_from" date NOT NULL,
	"rate_ppm" integer NOT NULL,
	CONSTRAINT "tax_rates_one_a_day" UNIQUE("tax_group_id","valid_from"),
	CONSTRAINT "tax_rates_range" CHECK ("tax_rates"."rate_ppm" between 0 and 1000000)
);
--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "takes_by" text;--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "transit_days" smallint DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "net_days" smallint DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "order_discount_basis_points" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "early_discount_basis_points" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "early_discount_days" smallint DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "shipping_minor" bigint DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "least_order_minor" bigint;--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "least_order_units" integer;--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "tax_group_id" integer;--> statement-breakpoint
ALTER TABLE "customers" ADD COLUMN "price_list_id" integer;--> statement-breakpoint
ALTER TABLE "order_lines" ADD COLUMN "unit_price_minor" bigint;--> statement-breakpoint
ALTER TABLE "order_lines" ADD COLUMN "discount_basis_points" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "order_lines" ADD COLUMN "tax_ppm" integer;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "needed_by" date;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "source" text DEFAULT 'typed' NOT NULL;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "stockist_link_id" integer;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "shop_reference" text;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "customer_reference" text DEFAULT '' NOT NULL;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "customer_note" text DEFAULT '' NOT NULL;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "advised_ship_by" date;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "advised_at" timestamp with time zone;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "confirmed_against_advice_by" integer;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "price_list_id" integer;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "discount_basis_points" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "shipping_minor" bigint DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "priced_at" timestamp with time zone;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "currency" text;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "prices_include_tax" boolean;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "rounding" text;--> statement-breakpoint
ALTER TABLE "orders" ADD COLUMN "shipping_tax_ppm" integer;--> statement-breakpoint
ALTER TABLE "products" ADD COLUMN "making_cost_minor" bigint;--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "currency" text DEFAULT 'EUR' NOT NULL;--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "rounding" text DEFAULT 'line' NOT NULL;--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "usual_tax_group_id" integer;--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "making_cost_basis_points" integer DEFAULT 4000 NOT NULL;--> statement-breakpoint
ALTER TABLE "workshop" ADD COLUMN "leftover_loss_basis_points" integer DEFAULT 5000 NOT NULL;--> statement-breakpoint
ALTER TABLE "case_packs" ADD CONSTRAINT "case_packs_shape_id_shapes_id_fk" FOREIGN KEY ("shape_id") REFERENCES "public"."shapes"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "case_packs" ADD CONSTRAINT "case_packs_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "customer_contacts" ADD CONSTRAINT "customer_contacts_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "file_meanings" ADD CONSTRAINT "file_meanings_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "file_meanings" ADD CONSTRAINT "file_meanings_product_id_products_id_fk" FOREIGN KEY ("product_id") REFERENCES "public"."products"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "file_meanings" ADD CONSTRAINT "file_meanings_decided_by_people_id_fk" FOREIGN KEY ("decided_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "market_counts" ADD CONSTRAINT "market_counts_market_id_markets_id_fk" FOREIGN KEY ("market_id") REFERENCES "public"."markets"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "market_counts" ADD CONSTRAINT "market_counts_product_id_products_id_fk" FOREIGN KEY ("product_id") REFERENCES "public"."products"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "market_habits" ADD CONSTRAINT "market_habits_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "markets" ADD CONSTRAINT "markets_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "markets" ADD CONSTRAINT "markets_order_id_orders_id_fk" FOREIGN KEY ("order_id") REFERENCES "public"."orders"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "list_prices" ADD CONSTRAINT "list_prices_price_list_id_price_lists_id_fk" FOREIGN KEY ("price_list_id") REFERENCES "public"."price_lists"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "list_prices" ADD CONSTRAINT "list_prices_product_id_products_id_fk" FOREIGN KEY ("product_id") REFERENCES "public"."products"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "own_prices" ADD CONSTRAINT "own_prices_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "own_prices" ADD CONSTRAINT "own_prices_product_id_products_id_fk" FOREIGN KEY ("product_id") REFERENCES "public"."products"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "standing_order_dates" ADD CONSTRAINT "standing_order_dates_standing_order_id_standing_orders_id_fk" FOREIGN KEY ("standing_order_id") REFERENCES "public"."standing_orders"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "standing_order_dates" ADD CONSTRAINT "standing_order_dates_order_id_orders_id_fk" FOREIGN KEY ("order_id") REFERENCES "public"."orders"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "standing_order_lines" ADD CONSTRAINT "standing_order_lines_standing_order_id_standing_orders_id_fk" FOREIGN KEY ("standing_order_id") REFERENCES "public"."standing_orders"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "standing_order_lines" ADD CONSTRAINT "standing_order_lines_product_id_products_id_fk" FOREIGN KEY ("product_id") REFERENCES "public"."products"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "standing_order_pauses" ADD CONSTRAINT "standing_order_pauses_standing_order_id_standing_orders_id_fk" FOREIGN KEY ("standing_order_id") REFERENCES "public"."standing_orders"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "standing_orders" ADD CONSTRAINT "standing_orders_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "standing_orders" ADD CONSTRAINT "standing_orders_created_by_people_id_fk" FOREIGN KEY ("created_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "stockist_links" ADD CONSTRAINT "stockist_links_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "stockist_links" ADD CONSTRAINT "stockist_links_made_by_people_id_fk" FOREIGN KEY ("made_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "stockist_links" ADD CONSTRAINT "stockist_links_withdrawn_by_people_id_fk" FOREIGN KEY ("withdrawn_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "tax_rates" ADD CONSTRAINT "tax_rates_tax_group_id_tax_groups_id_fk" FOREIGN KEY ("tax_group_id") REFERENCES "public"."tax_groups"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "case_packs_one_for_everybody" ON "case_packs" USING btree ("shape_id") WHERE "case_packs"."customer_id" is null;--> statement-breakpoint
CREATE UNIQUE INDEX "case_packs_one_a_customer" ON "case_packs" USING btree ("customer_id","shape_id") WHERE "case_packs"."customer_id" is not null;--> statement-breakpoint
CREATE INDEX "customer_contacts_by_customer" ON "customer_contacts" USING btree ("customer_id","id");--> statement-breakpoint
CREATE UNIQUE INDEX "file_meanings_one_a_text" ON "file_meanings" USING btree ("what",lower("written_as"));--> statement-breakpoint
CREATE INDEX "market_counts_by_product" ON "market_counts" USING btree ("product_id","market_id");--> statement-breakpoint
CREATE UNIQUE INDEX "markets_one_crate_list" ON "markets" USING btree ("order_id");--> statement-breakpoint
CREATE INDEX "markets_by_date" ON "markets" USING btree ("held_on","id");--> statement-breakpoint
CREATE UNIQUE INDEX "price_lists_name_unique" ON "price_lists" USING btree (lower("name"));--> statement-breakpoint
CREATE UNIQUE INDEX "price_lists_one_usual" ON "price_lists" USING btree ("kind") WHERE "price_lists"."usual";--> statement-breakpoint
CREATE UNIQUE INDEX "standing_order_dates_one_an_order" ON "standing_order_dates" USING btree ("order_id");--> statement-breakpoint
CREATE INDEX "standing_orders_by_customer" ON "standing_orders" USING btree ("customer_id","id");--> statement-breakpoint
CREATE UNIQUE INDEX "stockist_links_one_live" ON "stockist_links" USING btree ("customer_id") WHERE "stockist_links"."withdrawn_at" is null;--> statement-breakpoint
CREATE UNIQUE INDEX "tax_groups_name_unique" ON "tax_groups" USING btree (lower("name"));--> statement-breakpoint
ALTER TABLE "customers" ADD CONSTRAINT "customers_tax_group_id_tax_groups_id_fk" FOREIGN KEY ("tax_group_id") REFERENCES "public"."tax_groups"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "customers" ADD CONSTRAINT "customers_price_list_id_price_lists_id_fk" FOREIGN KEY ("price_list_id") REFERENCES "public"."price_lists"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_stockist_link_id_stockist_links_id_fk" FOREIGN KEY ("stockist_link_id") REFERENCES "public"."stockist_links"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_confirmed_against_advice_by_people_id_fk" FOREIGN KEY ("confirmed_against_advice_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_price_list_id_price_lists_id_fk" FOREIGN KEY ("price_list_id") REFERENCES "public"."price_lists"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "workshop" ADD CONSTRAINT "workshop_usual_tax_group_id_tax_groups_id_fk" FOREIGN KEY ("usual_tax_group_id") REFERENCES "public"."tax_groups"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "orders_shop_reference_unique" ON "orders" USING btree ("shop_reference");--> statement-breakpoint
-- Who was written down as the contact of a customer is the first of its contacts.
INSERT INTO "customer_contacts" ("customer_id", "name", "phone", "email")
  SELECT "id", "contact_name", "phone", "email" FROM "customers"
  WHERE length(trim("contact_name" || "phone" || "email")) > 0 ORDER BY "id";--> statement-breakpoint
ALTER TABLE "customers" DROP COLUMN "contact_name";--> statement-breakpoint
ALTER TABLE "customers" DROP COLUMN "email";--> statement-breakpoint
ALTER TABLE "customers" DROP COLUMN "phone";--> statement-breakpoint
ALTER TABLE "customers" ADD CONSTRAINT "customers_takes_by_known" CHECK ("customers"."takes_by" in ('parcel', 'local-round', 'collected', 'market-crate'));--> statement-breakpoint
ALTER TABLE "customers" ADD CONSTRAINT "customers_transit_days" CHECK ("customers"."transit_days" between 0 and 30 and ("customers"."transit_days" = 0 or coalesce("customers"."takes_by", 'parcel') = 'parcel'));--> statement-breakpoint
ALTER TABLE "customers" ADD CONSTRAINT "customers_net_days" CHECK ("customers"."net_days" between 0 and 365);--> statement-breakpoint
ALTER TABLE "customers" ADD CONSTRAINT "customers_order_discount" CHECK ("customers"."order_discount_basis_points" between 0 and 10000);--> statement-breakpoint
ALTER TABLE "customers" ADD CONSTRAINT "customers_early_discount" CHECK ("customers"."early_discount_basis_points" between 0 and 10000 and "customers"."early_discount_days" between 0 and "customers"."net_days"
        and ("customers"."early_discount_basis_points" = 0) = ("customers"."early_discount_days" = 0));--> statement-breakpoint
ALTER TABLE "customers" ADD CONSTRAINT "customers_shipping" CHECK ("customers"."shipping_minor" between 0 and 1000000000);--> statement-breakpoint
ALTER TABLE "customers" ADD CONSTRAINT "customers_least_order" CHECK ("customers"."least_order_minor" between 0 and 1000000000 and "customers"."least_order_minor" > 0);--> statement-breakpoint
ALTER TABLE "customers" ADD CONSTRAINT "customers_least_units" CHECK ("customers"."least_order_units" between 1 and 100000);--> statement-breakpoint
ALTER TABLE "order_lines" ADD CONSTRAINT "order_lines_unit_price" CHECK ("order_lines"."unit_price_minor" between 0 and 10000000);--> statement-breakpoint
ALTER TABLE "order_lines" ADD CONSTRAINT "order_lines_discount" CHECK ("order_lines"."discount_basis_points" between 0 and 10000);--> statement-breakpoint
ALTER TABLE "order_lines" ADD CONSTRAINT "order_lines_tax" CHECK ("order_lines"."tax_ppm" between 0 and 1000000);--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_source_known" CHECK ("orders"."source" in ('typed', 'file', 'standing', 'stockist'));--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_stockist_has_its_link" CHECK (("orders"."source" = 'stockist') = ("orders"."stockist_link_id" is not null)
        and ("orders"."source" = 'stockist') = ("orders"."shop_reference" is not null));--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_shop_reference_form" CHECK ("orders"."shop_reference" ~ '^[A-Z0-9-]{4,20}$');--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_advice_has_its_time" CHECK ("orders"."advised_at" is not null or ("orders"."advised_ship_by" is null and "orders"."confirmed_against_advice_by" is null));--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_against_advice_is_confirmed" CHECK ("orders"."confirmed_against_advice_by" is null or "orders"."confirmed_at" is not null);--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_discount" CHECK ("orders"."discount_basis_points" between 0 and 10000);--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_shipping" CHECK ("orders"."shipping_minor" between 0 and 1000000000);--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_priced_has_its_terms" CHECK (num_nulls("orders"."priced_at", "orders"."currency", "orders"."prices_include_tax", "orders"."rounding", "orders"."shipping_tax_ppm") in (0, 5));--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_priced_when_confirmed" CHECK ("orders"."priced_at" is null or "orders"."confirmed_at" is not null);--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_currency_form" CHECK ("orders"."currency" ~ '^[A-Z]{3}$');--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_rounding_known" CHECK ("orders"."rounding" in ('line', 'order'));--> statement-breakpoint
ALTER TABLE "orders" ADD CONSTRAINT "orders_shipping_tax" CHECK ("orders"."shipping_tax_ppm" between 0 and 1000000);--> statement-breakpoint
ALTER TABLE "products" ADD CONSTRAINT "products_making_cost" CHECK ("products"."making_cost_minor" between 0 and 10000000);--> statement-breakpoint
ALTER TABLE "workshop" ADD CONSTRAINT "workshop_currency_form" CHECK ("workshop"."currency" ~ '^[A-Z]{3}$');--> statement-breakpoint
ALTER TABLE "workshop" ADD CONSTRAINT "workshop_rounding_known" CHECK ("workshop"."rounding" in ('line', 'order'));--> statement-breakpoint
ALTER TABLE "workshop" ADD CONSTRAINT "workshop_making_cost" CHECK ("workshop"."making_cost_basis_points" between 0 and 10000);--> statement-breakpoint
ALTER TABLE "workshop" ADD CONSTRAINT "workshop_leftover_loss" CHECK ("workshop"."leftover_loss_basis_points" between 0 and 10000);