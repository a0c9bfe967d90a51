-- How long a product keeps, for the date of durability on labels for the European Union and the United Kingdom.
ALTER TABLE "products" ADD COLUMN "durability_months" integer;--> statement-breakpoint
ALTER TABLE "products" ADD CONSTRAINT "products_durability" CHECK ("products"."durability_months" between 1 and 120);