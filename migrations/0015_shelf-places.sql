-- Where on the shelf a ready lot stands, so that packing lists can be walked along it.
ALTER TABLE "lots" ADD COLUMN "shelf_place" text DEFAULT '' NOT NULL;--> statement-breakpoint
ALTER TABLE "lots" ADD CONSTRAINT "lots_shelf_place" CHECK ("lots"."shelf_place" = trim("lots"."shelf_place") and length("lots"."shelf_place") <= 12);