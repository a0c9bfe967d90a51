-- The papers that go to a customer: the shop's heading, invoices and credit notes with numbers that have no gap, and what settled them.
CREATE TABLE "invoice_lines" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "invoice_lines_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"invoice_id" integer NOT NULL,
	"kind" text NOT NULL,
	"order_line_id" integer,
	"credits_line_id" integer,
	"what" text NOT NULL,
	"units" integer,
	"ordered_units" integer,
	"sent_units" integer,
	"unit_price_minor" bigint NOT NULL,
	"discount_basis_points" integer NOT NULL,
	"tax_ppm" integer NOT NULL,
	"amount_minor" bigint NOT NULL,
	"order_discount_minor" bigint NOT NULL,
	"net_minor" bigint NOT NULL,
	"tax_minor" bigint NOT NULL,
	"gross_minor" bigint NOT NULL,
	CONSTRAINT "invoice_lines_kind_known" CHECK ("invoice_lines"."kind" in ('goods', 'shipping')),
	CONSTRAINT "invoice_lines_goods_have_pieces" CHECK (("invoice_lines"."kind" = 'goods') = ("invoice_lines"."order_line_id" is not null) and ("invoice_lines"."kind" = 'goods') = ("invoice_lines"."units" is not null)),
	CONSTRAINT "invoice_lines_units" CHECK ("invoice_lines"."units" between 0 and 100000),
	CONSTRAINT "invoice_lines_discount" CHECK ("invoice_lines"."discount_basis_points" between 0 and 10000),
	CONSTRAINT "invoice_lines_tax" CHECK ("invoice_lines"."tax_ppm" between 0 and 1000000),
	CONSTRAINT "invoice_lines_price" CHECK ("invoice_lines"."kind" = 'shipping' or "invoice_lines"."unit_price_minor" between 0 and 10000000),
	CONSTRAINT "invoice_lines_amounts" CHECK ("invoice_lines"."net_minor" + "invoice_lines"."tax_minor" = "invoice_lines"."gross_minor" and "invoice_lines"."gross_minor" >= 0 and "invoice_lines"."amount_minor" >= 0)
);
--> statement-breakpoint
CREATE TABLE "invoice_years" (
	"kind" text NOT NULL,
	"year" smallint NOT NULL,
	CONSTRAINT "invoice_years_once" UNIQUE("kind","year")
);
--> statement-breakpoint
CREATE TABLE "invoices" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "invoices_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"kind" text NOT NULL,
	"year" smallint NOT NULL,
	"number" integer DEFAULT 0 NOT NULL,
	"order_id" integer NOT NULL,
	"customer_id" integer NOT NULL,
	"credits_id" integer,
	"reason" text DEFAULT '' NOT NULL,
	"bill_again" boolean,
	"basis" text,
	"issued_on" date NOT NULL,
	"net_days" smallint,
	"due_on" date,
	"early_discount_basis_points" integer,
	"early_until" date,
	"early_discount_minor" bigint,
	"seller_name" text NOT NULL,
	"seller_address" text NOT NULL,
	"seller_tax_number" text NOT NULL,
	"seller_bank" text NOT NULL,
	"payment_words" text NOT NULL,
	"footer" text NOT NULL,
	"customer_name" text NOT NULL,
	"customer_address" text NOT NULL,
	"order_reference" text NOT NULL,
	"customer_reference" text NOT NULL,
	"left_on" date[] NOT NULL,
	"currency" text NOT NULL,
	"prices_include_tax" boolean NOT NULL,
	"discount_basis_points" integer NOT NULL,
	"goods_minor" bigint NOT NULL,
	"discount_minor" bigint NOT NULL,
	"net_minor" bigint NOT NULL,
	"tax_minor" bigint NOT NULL,
	"gross_minor" bigint NOT NULL,
	"created_at" timestamp with time zone NOT NULL,
	"created_by" integer,
	CONSTRAINT "invoices_numbered_once" UNIQUE("kind","year","number"),
	CONSTRAINT "invoices_kind_known" CHECK ("invoices"."kind" in ('invoice', 'credit-note')),
	CONSTRAINT "invoices_basis_known" CHECK ("invoices"."basis" in ('left', 'whole')),
	CONSTRAINT "invoices_number_counted" CHECK ("invoices"."number" > 0),
	CONSTRAINT "invoices_year_of_its_date" CHECK ("invoices"."year" = extract(year from "invoices"."issued_on")),
	CONSTRAINT "invoices_kind_has_its_parts" CHECK (case "invoices"."kind" when 'invoice'
        then num_nulls("invoices"."basis", "invoices"."net_days", "invoices"."due_on") = 0
          and num_nonnulls("invoices"."credits_id", "invoices"."bill_again") = 0 and "invoices"."reason" = ''
        else num_nulls("invoices"."credits_id", "invoices"."bill_again") = 0 and length(trim("invoices"."reason")) > 0
          and num_nonnulls("invoices"."basis", "invoices"."net_days", "invoices"."due_on", "invoices"."early_until") = 0 end),
	CONSTRAINT "invoices_due_after_net_days" CHECK ("invoices"."due_on" = "invoices"."issued_on" + "invoices"."net_days"::integer),
	CONSTRAINT "invoices_early_discount" CHECK (num_nulls("invoices"."early_discount_basis_points", "invoices"."early_until", "invoices"."early_discount_minor") in (0, 3)
        and "invoices"."early_discount_basis_points" between 0 and 10000 and "invoices"."early_until" between "invoices"."issued_on" and "invoices"."due_on"
        and "invoices"."early_discount_minor" between 0 and "invoices"."gross_minor"),
	CONSTRAINT "invoices_currency_form" CHECK ("invoices"."currency" ~ '^[A-Z]{3}$'),
	CONSTRAINT "invoices_amounts" CHECK ("invoices"."net_minor" + "invoices"."tax_minor" = "invoices"."gross_minor" and "invoices"."gross_minor" >= 0)
);
--> statement-breakpoint
CREATE TABLE "letterhead" (
	"id" integer PRIMARY KEY DEFAULT 1 NOT NULL,
	"name" text DEFAULT '' NOT NULL,
	"address" text DEFAULT '' NOT NULL,
	"tax_number" text DEFAULT '' NOT NULL,
	"bank" text DEFAULT '' NOT NULL,
	"payment_words" text DEFAULT '' NOT NULL,
	"footer" text DEFAULT '' NOT NULL,
	"paper_size" text DEFAULT 'A4' NOT NULL,
	CONSTRAINT "letterhead_only_one" CHECK ("letterhead"."id" = 1),
	CONSTRAINT "letterhead_paper_size_known" CHECK ("letterhead"."paper_size" in ('A4', 'Letter'))
);
--> statement-breakpoint
CREATE TABLE "payments" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "payments_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"invoice_id" integer NOT NULL,
	"kind" text NOT NULL,
	"amount_minor" bigint NOT NULL,
	"paid_on" date NOT NULL,
	"words" text DEFAULT '' NOT NULL,
	"takes_back_id" integer,
	"at" timestamp with time zone NOT NULL,
	"person_id" integer,
	CONSTRAINT "payments_taken_back_once" UNIQUE("takes_back_id"),
	CONSTRAINT "payments_kind_known" CHECK ("payments"."kind" in ('received', 'early-discount', 'let-off', 'paid-back')),
	CONSTRAINT "payments_sign" CHECK ("payments"."amount_minor" <> 0
        and ("payments"."amount_minor" > 0) = (("payments"."kind" <> 'paid-back') = ("payments"."takes_back_id" is null)))
);
--> statement-breakpoint
ALTER TABLE "invoice_lines" ADD CONSTRAINT "invoice_lines_invoice_id_invoices_id_fk" FOREIGN KEY ("invoice_id") REFERENCES "public"."invoices"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "invoice_lines" ADD CONSTRAINT "invoice_lines_order_line_id_order_lines_id_fk" FOREIGN KEY ("order_line_id") REFERENCES "public"."order_lines"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "invoice_lines" ADD CONSTRAINT "invoice_lines_credits_line_id_invoice_lines_id_fk" FOREIGN KEY ("credits_line_id") REFERENCES "public"."invoice_lines"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "invoices" ADD CONSTRAINT "invoices_order_id_orders_id_fk" FOREIGN KEY ("order_id") REFERENCES "public"."orders"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "invoices" ADD CONSTRAINT "invoices_customer_id_customers_id_fk" FOREIGN KEY ("customer_id") REFERENCES "public"."customers"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "invoices" ADD CONSTRAINT "invoices_credits_id_invoices_id_fk" FOREIGN KEY ("credits_id") REFERENCES "public"."invoices"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "invoices" ADD CONSTRAINT "invoices_created_by_people_id_fk" FOREIGN KEY ("created_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "payments" ADD CONSTRAINT "payments_invoice_id_invoices_id_fk" FOREIGN KEY ("invoice_id") REFERENCES "public"."invoices"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "payments" ADD CONSTRAINT "payments_takes_back_id_payments_id_fk" FOREIGN KEY ("takes_back_id") REFERENCES "public"."payments"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "payments" ADD CONSTRAINT "payments_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "invoice_lines_by_invoice" ON "invoice_lines" USING btree ("invoice_id","id");--> statement-breakpoint
CREATE INDEX "invoice_lines_by_order_line" ON "invoice_lines" USING btree ("order_line_id") WHERE "invoice_lines"."order_line_id" is not null;--> statement-breakpoint
CREATE INDEX "invoice_lines_by_credited" ON "invoice_lines" USING btree ("credits_line_id") WHERE "invoice_lines"."credits_line_id" is not null;--> statement-breakpoint
CREATE UNIQUE INDEX "invoice_lines_order_line_once" ON "invoice_lines" USING btree ("invoice_id","order_line_id") WHERE "invoice_lines"."order_line_id" is not null;--> statement-breakpoint
CREATE UNIQUE INDEX "invoice_lines_one_shipping" ON "invoice_lines" USING btree ("invoice_id") WHERE "invoice_lines"."kind" = 'shipping';--> statement-breakpoint
CREATE INDEX "invoices_by_order" ON "invoices" USING btree ("order_id","id");--> statement-breakpoint
CREATE INDEX "invoices_by_customer" ON "invoices" USING btree ("customer_id","id");--> statement-breakpoint
CREATE INDEX "invoices_by_credited" ON "invoices" USING btree ("credits_id") WHERE "invoices"."credits_id" is not null;--> statement-breakpoint
CREATE INDEX "payments_by_invoice" ON "payments" USING btree ("invoice_id","id");--> statement-breakpoint
CREATE VIEW "public"."invoice_balances" AS (
  select invoices.id as invoice_id, credited.minor as credited_minor, settled.minor as settled_minor,
    invoices.gross_minor - credited.minor - settled.minor as open_minor
  from invoices
    cross join lateral (select coalesce(sum(notes.gross_minor), 0)::bigint as minor
      from invoices as notes where notes.credits_id = invoices.id) as credited
    cross join lateral (select coalesce(sum(payments.amount_minor), 0)::bigint as minor
      from payments where payments.invoice_id = invoices.id) as settled
  where invoices.kind = 'invoice');
--> statement-breakpoint
-- What is written is kept: a wrong invoice is answered by a credit note, a wrong payment by a counter entry.
CREATE TRIGGER invoices_written_once BEFORE UPDATE OR DELETE ON "invoices" FOR EACH ROW EXECUTE FUNCTION refuse_rewriting();
--> statement-breakpoint
CREATE TRIGGER invoice_lines_written_once BEFORE UPDATE OR DELETE ON "invoice_lines" FOR EACH ROW EXECUTE FUNCTION refuse_rewriting();
--> statement-breakpoint
CREATE TRIGGER payments_written_once BEFORE UPDATE OR DELETE ON "payments" FOR EACH ROW EXECUTE FUNCTION refuse_rewriting();
--> statement-breakpoint
-- The next number of its kind and year, whoever writes. The year's row is held until the transaction ends: who comes second
-- sees the number before, or that it was undone, so that none is given twice and none is left out.
CREATE FUNCTION number_invoice() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO invoice_years (kind, year) VALUES (NEW.kind, NEW.year) ON CONFLICT DO NOTHING;
  PERFORM FROM invoice_years WHERE kind = NEW.kind AND year = NEW.year FOR UPDATE;
  SELECT coalesce(max(number), 0) + 1 INTO NEW.number FROM invoices WHERE kind = NEW.kind AND year = NEW.year;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER invoices_numbered BEFORE INSERT ON "invoices" FOR EACH ROW EXECUTE FUNCTION number_invoice();
--> statement-breakpoint
-- A credit note corrects an invoice, of the same order, customer and money.
CREATE FUNCTION check_credit_note() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (SELECT FROM invoices WHERE id = NEW.credits_id AND kind = 'invoice' AND order_id = NEW.order_id
    AND customer_id = NEW.customer_id AND currency = NEW.currency AND prices_include_tax = NEW.prices_include_tax) THEN
    RAISE EXCEPTION 'a credit note corrects an invoice of the same order, customer and money'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'invoices_credit_what_they_correct', TABLE = 'invoices';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER invoices_credit_checked BEFORE INSERT ON "invoices" FOR EACH ROW WHEN (NEW.kind = 'credit-note')
  EXECUTE FUNCTION check_credit_note();
--> statement-breakpoint
-- No more is billed of an order's line than is ordered of it, what was credited to be billed anew counted out; and no more
-- is credited of a line than was billed. The line that is taken from is held, so that two who take at once wait.
CREATE FUNCTION check_invoice_line() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  paper invoices%ROWTYPE;
  billed invoice_lines%ROWTYPE;
  line_order integer;
  ordered bigint;
  taken_units bigint;
  taken_gross bigint;
  taken_tax bigint;
  taken_amount bigint;
BEGIN
  SELECT * INTO paper FROM invoices WHERE id = NEW.invoice_id;
  IF paper.kind = 'credit-note' THEN
    SELECT * INTO billed FROM invoice_lines WHERE id = NEW.credits_line_id FOR UPDATE;
    IF billed.invoice_id IS DISTINCT FROM paper.credits_id OR billed.kind IS DISTINCT FROM NEW.kind
      OR billed.order_line_id IS DISTINCT FROM NEW.order_line_id THEN
      RAISE EXCEPTION 'a credit note takes from the lines of the invoice it corrects'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'invoice_lines_of_what_is_corrected', TABLE = 'invoice_lines';
    END IF;
    SELECT coalesce(sum(units), 0), coalesce(sum(gross_minor), 0), coalesce(sum(tax_minor), 0), coalesce(sum(amount_minor), 0)
      INTO taken_units, taken_gross, taken_tax, taken_amount
      FROM invoice_lines WHERE credits_line_id = NEW.credits_line_id;
    IF taken_units + coalesce(NEW.units, 0) > coalesce(billed.units, 0) OR taken_gross + NEW.gross_minor > billed.gross_minor
      OR taken_tax + NEW.tax_minor > billed.tax_minor OR taken_amount + NEW.amount_minor > billed.amount_minor THEN
      RAISE EXCEPTION 'no more is credited than was billed'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'invoice_lines_never_over_credited', TABLE = 'invoice_lines';
    END IF;
    RETURN NEW;
  END IF;
  IF NEW.credits_line_id IS NOT NULL THEN
    RAISE EXCEPTION 'only a credit note takes from a line'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'invoice_lines_of_what_is_corrected', TABLE = 'invoice_lines';
  END IF;
  IF NEW.kind = 'shipping' THEN
    -- One who bills at the same time waits for the order.
    PERFORM FROM orders WHERE id = paper.order_id FOR UPDATE;
    SELECT coalesce(sum(CASE invoices.kind WHEN 'invoice' THEN 1 ELSE -1 END), 0) INTO taken_units
      FROM invoice_lines JOIN invoices ON invoices.id = invoice_lines.invoice_id
      WHERE invoices.order_id = paper.order_id AND invoice_lines.kind = 'shipping'
        AND (invoices.kind = 'invoice' OR invoices.bill_again);
    IF taken_units > 0 THEN
      RAISE EXCEPTION 'the shipping of an order is billed once'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'invoice_lines_shipping_once', TABLE = 'invoice_lines';
    END IF;
    RETURN NEW;
  END IF;
  SELECT order_id, units INTO line_order, ordered FROM order_lines WHERE id = NEW.order_line_id FOR UPDATE;
  IF line_order <> paper.order_id THEN
    RAISE EXCEPTION 'an invoice bills lines of its own order'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'invoice_lines_of_their_order', TABLE = 'invoice_lines';
  END IF;
  SELECT coalesce(sum(CASE invoices.kind WHEN 'invoice' THEN invoice_lines.units ELSE -invoice_lines.units END), 0)
    INTO taken_units FROM invoice_lines JOIN invoices ON invoices.id = invoice_lines.invoice_id
    WHERE invoice_lines.order_line_id = NEW.order_line_id AND (invoices.kind = 'invoice' OR invoices.bill_again);
  IF NEW.units > 0 AND taken_units + NEW.units > ordered THEN
    RAISE EXCEPTION 'no more is billed than is ordered'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'invoice_lines_never_over_billed', TABLE = 'invoice_lines';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER invoice_lines_checked BEFORE INSERT ON "invoice_lines" FOR EACH ROW EXECUTE FUNCTION check_invoice_line();
--> statement-breakpoint
-- Looked at when the transaction ends: an invoice has lines, and they come to what it says, to the minor unit. A line that
-- is put to it later would no longer add up.
CREATE FUNCTION check_invoice_sums() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  paper_id integer;
BEGIN
  IF TG_TABLE_NAME = 'invoices' THEN paper_id := NEW.id; ELSE paper_id := NEW.invoice_id; END IF;
  IF NOT EXISTS (SELECT FROM invoices JOIN invoice_lines ON invoice_lines.invoice_id = invoices.id
    WHERE invoices.id = paper_id GROUP BY invoices.id
    HAVING sum(invoice_lines.net_minor) = invoices.net_minor AND sum(invoice_lines.tax_minor) = invoices.tax_minor
      AND sum(invoice_lines.gross_minor) = invoices.gross_minor
      AND sum(invoice_lines.order_discount_minor) = invoices.discount_minor
      AND coalesce(sum(invoice_lines.amount_minor) FILTER (WHERE invoice_lines.kind = 'goods'), 0) = invoices.goods_minor
      AND (count(*) FILTER (WHERE invoice_lines.units > 0) > 0 OR bool_or(invoice_lines.kind = 'shipping'))) THEN
    RAISE EXCEPTION 'the lines of an invoice come to what it says'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'invoices_add_up', TABLE = 'invoices';
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE CONSTRAINT TRIGGER invoices_add_up AFTER INSERT ON "invoices" DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_invoice_sums();
--> statement-breakpoint
CREATE CONSTRAINT TRIGGER invoice_lines_add_up AFTER INSERT ON "invoice_lines" DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_invoice_sums();
--> statement-breakpoint
-- An invoice is settled, a credit note is not; an entry is taken back whole; no more is kept back for paying early than was
-- offered. The invoice is held, so that two who enter at once wait for each other.
CREATE FUNCTION check_payment() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  paper invoices%ROWTYPE;
  kept_back bigint;
BEGIN
  SELECT * INTO paper FROM invoices WHERE id = NEW.invoice_id FOR UPDATE;
  IF paper.kind <> 'invoice' THEN
    RAISE EXCEPTION 'only an invoice is settled'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'payments_settle_invoices', TABLE = 'payments';
  END IF;
  IF NEW.takes_back_id IS NOT NULL AND NOT EXISTS (SELECT FROM payments WHERE id = NEW.takes_back_id
    AND invoice_id = NEW.invoice_id AND kind = NEW.kind AND amount_minor = -NEW.amount_minor AND takes_back_id IS NULL) THEN
    RAISE EXCEPTION 'a counter entry takes back one entry of its invoice, whole'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'payments_taken_back_whole', TABLE = 'payments';
  END IF;
  IF NEW.kind = 'early-discount' THEN
    SELECT coalesce(sum(amount_minor), 0) + NEW.amount_minor INTO kept_back
      FROM payments WHERE invoice_id = NEW.invoice_id AND kind = 'early-discount';
    IF kept_back > coalesce(paper.early_discount_minor, 0) THEN
      RAISE EXCEPTION 'no more is kept back for paying early than was offered'
        USING ERRCODE = 'check_violation', CONSTRAINT = 'payments_early_discount_as_offered', TABLE = 'payments';
    END IF;
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER payments_checked BEFORE INSERT ON "payments" FOR EACH ROW EXECUTE FUNCTION check_payment();
--> statement-breakpoint
-- What was billed is money too: the currency stays with it, even when the order has lost its prices.
CREATE FUNCTION keep_currency_of_invoices() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.currency <> OLD.currency AND EXISTS (SELECT FROM invoices) THEN
    RAISE EXCEPTION 'there are amounts in the workshop''s currency'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'workshop_keeps_its_currency', TABLE = 'workshop';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER workshop_keeps_the_currency_of_invoices BEFORE UPDATE ON "workshop" FOR EACH ROW EXECUTE FUNCTION keep_currency_of_invoices();
