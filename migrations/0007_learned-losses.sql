-- What of its pressed pieces a product is expected to lose; nothing until the maker accepts a figure.
ALTER TABLE "products" ADD COLUMN "loss_basis_points" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "products" ADD CONSTRAINT "products_loss" CHECK ("products"."loss_basis_points" between 0 and 5000);