-- A reference is one whatever its capitals, also for whoever writes past the commands; and sign-ins that are over, or are
-- one person's, are found without reading all of them.
CREATE UNIQUE INDEX "orders_reference_unique_in_any_case" ON "orders" USING btree (lower("reference"));--> statement-breakpoint
CREATE INDEX "sign_ins_by_end" ON "sign_ins" USING btree ("expires_at");--> statement-breakpoint
CREATE INDEX "sign_ins_by_person" ON "sign_ins" USING btree ("person_id");
