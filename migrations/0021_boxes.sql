-- The sizes of box that orders leave in, and how many pieces of each shape fill them; the packing bell rings for holds too.
CREATE TABLE "box_holds" (
	"box_size_id" integer NOT NULL,
	"shape_id" integer NOT NULL,
	"units" integer NOT NULL,
	CONSTRAINT "box_holds_box_size_id_shape_id_pk" PRIMARY KEY("box_size_id","shape_id"),
	CONSTRAINT "box_holds_units" CHECK ("box_holds"."units" between 1 and 10000)
);
--> statement-breakpoint
CREATE TABLE "box_sizes" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "box_sizes_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"name" text NOT NULL,
	"tare_milligrams" integer NOT NULL,
	"inner_length_mm" integer,
	"inner_width_mm" integer,
	"inner_height_mm" integer,
	"retired_at" timestamp with time zone,
	CONSTRAINT "box_sizes_name_given" CHECK (length(trim("box_sizes"."name")) between 1 and 60),
	CONSTRAINT "box_sizes_tare" CHECK ("box_sizes"."tare_milligrams" between 1 and 50000000),
	CONSTRAINT "box_sizes_inner" CHECK (num_nulls("box_sizes"."inner_length_mm", "box_sizes"."inner_width_mm", "box_sizes"."inner_height_mm") in (0, 3)
        and coalesce("box_sizes"."inner_length_mm" between 1 and 3000 and "box_sizes"."inner_width_mm" between 1 and 3000
          and "box_sizes"."inner_height_mm" between 1 and 3000, true))
);
--> statement-breakpoint
ALTER TABLE "box_holds" ADD CONSTRAINT "box_holds_box_size_id_box_sizes_id_fk" FOREIGN KEY ("box_size_id") REFERENCES "public"."box_sizes"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "box_holds" ADD CONSTRAINT "box_holds_shape_id_shapes_id_fk" FOREIGN KEY ("shape_id") REFERENCES "public"."shapes"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "box_sizes_name_unique" ON "box_sizes" USING btree (lower("name"));
--> statement-breakpoint
-- What is held back shows at the packing table too.
CREATE TRIGGER lot_holds_ring_packing AFTER INSERT OR UPDATE OR DELETE ON "lot_holds" FOR EACH STATEMENT EXECUTE FUNCTION ring_packing();
--> statement-breakpoint
CREATE TRIGGER kept_pieces_ring_packing AFTER INSERT OR UPDATE OR DELETE ON "kept_pieces" FOR EACH STATEMENT EXECUTE FUNCTION ring_packing();
