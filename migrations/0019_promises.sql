-- What customers were promised: the date and the pieces at confirmation, and whenever one of them changed after that.
CREATE TABLE "order_promise_lines" (
	"promise_id" integer NOT NULL,
	"product_id" integer NOT NULL,
	"units" integer NOT NULL,
	CONSTRAINT "order_promise_lines_promise_id_product_id_pk" PRIMARY KEY("promise_id","product_id"),
	CONSTRAINT "order_promise_lines_units" CHECK ("order_promise_lines"."units" > 0)
);
--> statement-breakpoint
CREATE TABLE "order_promises" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "order_promises_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"order_id" integer NOT NULL,
	"made_at" timestamp with time zone NOT NULL,
	"ship_by" date NOT NULL
);
--> statement-breakpoint
ALTER TABLE "order_promise_lines" ADD CONSTRAINT "order_promise_lines_promise_id_order_promises_id_fk" FOREIGN KEY ("promise_id") REFERENCES "public"."order_promises"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "order_promise_lines" ADD CONSTRAINT "order_promise_lines_product_id_products_id_fk" FOREIGN KEY ("product_id") REFERENCES "public"."products"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "order_promises" ADD CONSTRAINT "order_promises_order_id_orders_id_fk" FOREIGN KEY ("order_id") REFERENCES "public"."orders"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "order_promise_lines_by_product" ON "order_promise_lines" USING btree ("product_id");--> statement-breakpoint
CREATE INDEX "order_promises_by_order" ON "order_promises" USING btree ("order_id","id");
--> statement-breakpoint
-- Orders that were confirmed before this was kept count with what they say now: no earlier promise of theirs is known.
INSERT INTO "order_promises" ("order_id", "made_at", "ship_by")
	SELECT "id", "confirmed_at", "ship_by" FROM "orders" WHERE "confirmed_at" IS NOT NULL ORDER BY "id";
--> statement-breakpoint
INSERT INTO "order_promise_lines" ("promise_id", "product_id", "units")
	SELECT "order_promises"."id", "order_lines"."product_id", "order_lines"."units" FROM "order_promises"
	JOIN "order_lines" ON "order_lines"."order_id" = "order_promises"."order_id" WHERE "order_lines"."units" > 0;
--> statement-breakpoint
CREATE FUNCTION keep_promises_as_made() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a promise is never changed or removed'
    USING ERRCODE = 'check_violation', CONSTRAINT = 'promises_stay_as_made', TABLE = TG_TABLE_NAME;
END $$;
--> statement-breakpoint
CREATE TRIGGER order_promises_stay BEFORE UPDATE OR DELETE ON "order_promises" FOR EACH ROW EXECUTE FUNCTION keep_promises_as_made();
--> statement-breakpoint
CREATE TRIGGER order_promise_lines_stay BEFORE UPDATE OR DELETE ON "order_promise_lines" FOR EACH ROW EXECUTE FUNCTION keep_promises_as_made();
