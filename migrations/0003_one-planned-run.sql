-- A run begun before its session starts is work that never moves; a later plan may still give that session a second run
-- of the same blend. Only what is planned is one a blend and session.
DROP INDEX "runs_one_per_blend_and_session";--> statement-breakpoint
CREATE UNIQUE INDEX "runs_one_planned_per_blend_and_session" ON "runs" USING btree ("blend_id","session_starts_at") WHERE "runs"."state" = 'planned';