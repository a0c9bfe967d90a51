import { sql } from "drizzle-orm";
import { check, date, integer, pgTable, primaryKey, text, timestamp, unique } from "drizzle-orm/pg-core";
import { people } from "./people.ts";
import { blends } from "./products.ts";
import { supplies } from "./supplies.ts";

/**
 * One version of what a blend is mixed from. Written once: a change is another version, which holds from its date on
 * until a later one begins, so that a batch can always be traced to what went into it.
 */
export const recipes = pgTable(
  "recipes",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    blendId: integer()
      .notNull()
      .references(() => blends.id),
    /** Counted for each blend from 1. */
    version: integer().notNull(),
    validFrom: date().notNull(),
    /** The kind of product by which scent limits are looked up, such as "9". */
    category: text().notNull(),
    note: text().notNull().default(""),
    /** How much mix the parts were written for, in thousandths of the unit; null: for as much as they make together. */
    writtenForThousandths: integer(),
    writtenForUnit: text({ enum: ["g", "kg", "oz", "lb"] }),
    createdAt: timestamp({ withTimezone: true }).notNull(),
    createdBy: integer().references(() => people.id),
  },
  (table) => [
    unique("recipes_one_of_each_version").on(table.blendId, table.version),
    check("recipes_version", sql`${table.version} > 0`),
    check("recipes_category_given", sql`length(trim(${table.category})) between 1 and 12`),
    check(
      "recipes_written_for",
      sql`(${table.writtenForThousandths} is null) = (${table.writtenForUnit} is null) and coalesce(${table.writtenForThousandths}, 1) > 0`,
    ),
    check("recipes_written_for_unit_known", sql`${table.writtenForUnit} in ('g', 'kg', 'oz', 'lb')`),
  ],
);

/** So much of an ingredient in a kilogram of mix. The parts of a version add up to the kilogram (trigger). */
export const recipeParts = pgTable(
  "recipe_parts",
  {
    recipeId: integer()
      .notNull()
      .references(() => recipes.id),
    /** Its place in the recipe, from 0. */
    place: integer().notNull(),
    /** When it is stirred in. */
    phase: text({ enum: ["dry", "colour", "liquid", "acid"] }).notNull(),
    supplyId: integer()
      .notNull()
      .references(() => supplies.id),
    milligramsPerKilogram: integer().notNull(),
    /** As it was written: so many thousandths of a unit. */
    thousandths: integer().notNull(),
    unit: text({
      enum: ["g", "kg", "oz", "lb", "ml", "fl-oz-us", "fl-oz-imperial", "tsp", "percent"],
    }).notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.recipeId, table.place] }),
    // An ingredient may be stirred in twice, but not twice in one step.
    unique("recipe_parts_once_in_a_phase").on(table.recipeId, table.supplyId, table.phase),
    check("recipe_parts_phase_known", sql`${table.phase} in ('dry', 'colour', 'liquid', 'acid')`),
    check("recipe_parts_range", sql`${table.milligramsPerKilogram} between 1 and 1000000`),
    check("recipe_parts_written", sql`${table.thousandths} > 0`),
    check(
      "recipe_parts_unit_known",
      sql`${table.unit} in ('g', 'kg', 'oz', 'lb', 'ml', 'fl-oz-us', 'fl-oz-imperial', 'tsp', 'percent')`,
    ),
  ],
);
