-- What of a market's crate has been loaded, and by whom.
CREATE TABLE "crate_loads" (
	"order_line_id" integer NOT NULL,
	"lot_id" integer NOT NULL,
	"units" integer NOT NULL,
	"loaded_by" integer NOT NULL,
	"loaded_at" timestamp with time zone NOT NULL,
	CONSTRAINT "crate_loads_order_line_id_lot_id_pk" PRIMARY KEY("order_line_id","lot_id"),
	CONSTRAINT "crate_loads_units" CHECK ("crate_loads"."units" > 0)
);
--> statement-breakpoint
ALTER TABLE "crate_loads" ADD CONSTRAINT "crate_loads_order_line_id_order_lines_id_fk" FOREIGN KEY ("order_line_id") REFERENCES "public"."order_lines"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "crate_loads" ADD CONSTRAINT "crate_loads_lot_id_lots_id_fk" FOREIGN KEY ("lot_id") REFERENCES "public"."lots"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "crate_loads" ADD CONSTRAINT "crate_loads_loaded_by_people_id_fk" FOREIGN KEY ("loaded_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;