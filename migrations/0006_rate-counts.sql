-- How often strangers ask, counted for all servers together. Unlogged: it is written at every visit and worth nothing after
-- a crash.
CREATE UNLOGGED TABLE "rate_counts" (
	"key" text PRIMARY KEY NOT NULL,
	"asked" integer NOT NULL,
	"ends_at" timestamp with time zone NOT NULL,
	CONSTRAINT "rate_counts_asked" CHECK ("rate_counts"."asked" > 0)
);
--> statement-breakpoint
CREATE INDEX "rate_counts_by_end" ON "rate_counts" USING btree ("ends_at");