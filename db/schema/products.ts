import { sql } from "drizzle-orm";
import { check, integer, numeric, pgTable, text, timestamp, unique } from "drizzle-orm/pg-core";
import { isUnitPrice, minorUnits } from "./money.ts";
import { shapes } from "./workshop.ts";

/** One scent in one colour: what goes into one bowl. */
export const blends = pgTable(
  "blends",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** Short and stable, such as "cedar-amber". */
    code: text().notNull().unique(),
    name: text().notNull(),
    /** "#rrggbb", as the blend is drawn. */
    colour: text().notNull(),
    /** Drawn over the colour, so that blends are never told apart by colour alone. */
    pattern: text({
      enum: ["plain", "dots", "lines", "grid", "waves", "crosses", "flecks", "rings"],
    }).notNull(),
    /** 0 lightest .. 1 darkest: light is mixed before dark. */
    shade: numeric({ precision: 3, scale: 2, mode: "number" }).notNull(),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    check(
      "blends_code_form",
      sql`${table.code} ~ '^[a-z0-9]+(-[a-z0-9]+)*$' and length(${table.code}) <= 40`,
    ),
    check("blends_colour_form", sql`${table.colour} ~ '^#[0-9a-f]{6}$'`),
    check("blends_shade_range", sql`${table.shade} between 0 and 1`),
    check(
      "blends_pattern_known",
      sql`${table.pattern} in ('plain', 'dots', 'lines', 'grid', 'waves', 'crosses', 'flecks', 'rings')`,
    ),
  ],
);

/** A blend in a shape; what a customer orders. */
export const products = pgTable(
  "products",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** "cedar-amber/ball-60": blend code, slash, shape code. */
    code: text().notNull().unique(),
    name: text().notNull(),
    blendId: integer()
      .notNull()
      .references(() => blends.id),
    shapeId: integer()
      .notNull()
      .references(() => shapes.id),
    /** What making one piece costs; null: reckoned from its price, as the workshop says. */
    makingCostMinor: minorUnits(),
    /** What of the pressed pieces the plan expects to be lost: nothing until the maker accepts a figure. */
    lossBasisPoints: integer().notNull().default(0),
    /** Net weight its labels declare where the maker wants less than a dry piece weighs; null: as much as may be. */
    declaredMilligrams: integer(),
    /** Its number under the shop's own GS1 prefix; null: it has none. */
    gs1Number: integer().unique("products_gs1_number_unique"),
    /** How long a piece keeps in its packaging from the day it is made; null: the owner has not said. */
    durabilityMonths: integer(),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    unique("products_one_per_blend_and_shape").on(table.blendId, table.shapeId),
    check("products_name_given", sql`length(trim(${table.name})) > 0`),
    check("products_making_cost", isUnitPrice(table.makingCostMinor)),
    check("products_declared", sql`${table.declaredMilligrams} > 0`),
    check("products_gs1_number", sql`${table.gs1Number} between 0 and 999999`),
    check("products_durability", sql`${table.durabilityMonths} between 1 and 120`),
    check("products_loss", sql`${table.lossBasisPoints} between 0 and 5000`),
  ],
);
