-- The calendar for phones, behind an address of which only the hash is kept.
CREATE TABLE "calendar_feeds" (
	"id" integer PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "calendar_feeds_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 2147483647 START WITH 1 CACHE 1),
	"token_hash" text NOT NULL,
	"made_at" timestamp with time zone NOT NULL,
	"made_by" integer NOT NULL,
	"withdrawn_at" timestamp with time zone,
	"withdrawn_by" integer,
	CONSTRAINT "calendar_feeds_tokenHash_unique" UNIQUE("token_hash"),
	CONSTRAINT "calendar_feeds_hash_form" CHECK ("calendar_feeds"."token_hash" ~ '^[0-9a-f]{64}$'),
	CONSTRAINT "calendar_feeds_withdrawn_by_somebody" CHECK (("calendar_feeds"."withdrawn_at" is null) = ("calendar_feeds"."withdrawn_by" is null))
);
--> statement-breakpoint
ALTER TABLE "calendar_feeds" ADD CONSTRAINT "calendar_feeds_made_by_people_id_fk" FOREIGN KEY ("made_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "calendar_feeds" ADD CONSTRAINT "calendar_feeds_withdrawn_by_people_id_fk" FOREIGN KEY ("withdrawn_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "calendar_feeds_one_live" ON "calendar_feeds" USING btree (("withdrawn_at" is null)) WHERE "calendar_feeds"."withdrawn_at" is null;