-- A line for which pieces were packed once, and taken out again, cannot be removed: the ledger points at it. It is struck
-- from its order by ordering no pieces of it.
ALTER TABLE "order_lines" DROP CONSTRAINT "order_lines_units";--> statement-breakpoint
ALTER TABLE "order_lines" ADD CONSTRAINT "order_lines_units" CHECK ("order_lines"."units" between 0 and 100000);