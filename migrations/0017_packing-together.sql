-- Word left for whoever packs and ships an order, and a bell so that two packers see what the other does.
CREATE TABLE "packing_notes" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "packing_notes_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"order_id" integer NOT NULL,
	"words" text NOT NULL,
	"at" timestamp with time zone NOT NULL,
	"person_id" integer,
	CONSTRAINT "packing_notes_words_given" CHECK (length(trim("packing_notes"."words")) between 1 and 300)
);
--> statement-breakpoint
ALTER TABLE "packing_notes" ADD CONSTRAINT "packing_notes_order_id_orders_id_fk" FOREIGN KEY ("order_id") REFERENCES "public"."orders"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "packing_notes" ADD CONSTRAINT "packing_notes_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "packing_notes_by_order" ON "packing_notes" USING btree ("order_id","id");
--> statement-breakpoint
-- As for the Bench: whoever changes what the packing table shows rings once his transaction is done.
CREATE FUNCTION ring_packing() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_notify('packing', '');
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER moves_ring_packing AFTER INSERT ON "moves" FOR EACH STATEMENT EXECUTE FUNCTION ring_packing();
--> statement-breakpoint
CREATE TRIGGER lots_ring_packing AFTER INSERT OR UPDATE OR DELETE ON "lots" FOR EACH STATEMENT EXECUTE FUNCTION ring_packing();
--> statement-breakpoint
CREATE TRIGGER orders_ring_packing AFTER INSERT OR UPDATE OR DELETE ON "orders" FOR EACH STATEMENT EXECUTE FUNCTION ring_packing();
--> statement-breakpoint
CREATE TRIGGER order_lines_ring_packing AFTER INSERT OR UPDATE OR DELETE ON "order_lines" FOR EACH STATEMENT EXECUTE FUNCTION ring_packing();
--> statement-breakpoint
CREATE TRIGGER packing_notes_ring_packing AFTER INSERT OR UPDATE OR DELETE ON "packing_notes" FOR EACH STATEMENT EXECUTE FUNCTION ring_packing();
