import { sql } from "drizzle-orm";
import { check, integer, pgTable, primaryKey, text, timestamp, uniqueIndex } from "drizzle-orm/pg-core";
import { shapes } from "./workshop.ts";

/** A size of box that orders leave in. */
export const boxSizes = pgTable(
  "box_sizes",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    name: text().notNull(),
    /** What it weighs empty. */
    tareMilligrams: integer().notNull(),
    /** Inside, in millimetres; all three or none. Kept for the packer's eye: what goes in is said by `box_holds`. */
    innerLengthMm: integer(),
    innerWidthMm: integer(),
    innerHeightMm: integer(),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    uniqueIndex("box_sizes_name_unique").on(sql`lower(${table.name})`),
    check("box_sizes_name_given", sql`length(trim(${table.name})) between 1 and 60`),
    check("box_sizes_tare", sql`${table.tareMilligrams} between 1 and 50000000`),
    check(
      "box_sizes_inner",
      sql`num_nulls(${table.innerLengthMm}, ${table.innerWidthMm}, ${table.innerHeightMm}) in (0, 3)
        and coalesce(${table.innerLengthMm} between 1 and 3000 and ${table.innerWidthMm} between 1 and 3000
          and ${table.innerHeightMm} between 1 and 3000, true)`,
    ),
  ],
);

/** How many pieces of a shape fill a box of a size; a shape without a row does not go into it. */
export const boxHolds = pgTable(
  "box_holds",
  {
    boxSizeId: integer()
      .notNull()
      .references(() => boxSizes.id, { onDelete: "cascade" }),
    shapeId: integer()
      .notNull()
      .references(() => shapes.id),
    units: integer().notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.boxSizeId, table.shapeId] }),
    check("box_holds_units", sql`${table.units} between 1 and 10000`),
  ],
);
