import { sql } from "drizzle-orm";
import {
  bigint,
  boolean,
  check,
  integer,
  pgTable,
  primaryKey,
  text,
  timestamp,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { isShare } from "./money.ts";

/**
 * An amount of a supply: whole milligrams of what goes into a bowl, whole pieces of what is packed with. A ton is far
 * within the exact range of a number.
 */
export function supplyAmount() {
  return bigint({ mode: "number" });
}

/** What is bought: what goes into a bowl, and what pieces are packed with. */
export const supplies = pgTable(
  "supplies",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    name: text().notNull(),
    /**
     * What it is to the mix; which cautions it calls for, and when it is usually stirred in. From "cup" on: what it is
     * to the packing. A trigger keeps either from becoming the other.
     */
    kind: text({
      enum: [
        "soda",
        "acid",
        "filler",
        "surfactant",
        "colour",
        "oil",
        "scent",
        "solubiliser",
        "alcohol",
        "water",
        "other",
        "cup",
        "bag",
        "tie",
        "label",
        "box",
        "wrap",
      ],
    }).notNull(),
    /** As labels call it (INCI or the law's own name); blank: not known. */
    labelName: text().notNull().default(""),
    /** Null: not known, so that it can only be weighed. */
    densityGramsPerLitre: integer(),
    /** Where the density is from. */
    densitySource: text().notNull().default(""),
    /** How much of it goes into the air while pieces dry, in basis points. */
    evaporatesBasisPoints: integer().notNull().default(0),
    /** Its dust irritates lungs and eyes. */
    dusty: boolean().notNull().default(false),
    flammable: boolean().notNull().default(false),
    /** What the supplier states of it, such as in which uses a colour is permitted. */
    statement: text().notNull().default(""),
    /** Where its statement of listed allergens is from; blank: none has been entered, which is not that it holds none. */
    allergenSource: text().notNull().default(""),
    /** False: it is there as water from the tap is, and nobody keeps count of it. */
    counted: boolean().notNull().default(true),
    /** What should be there at any time; it is bought when it would fall below. */
    leastOnHand: supplyAmount().notNull().default(0),
    /** One purchase covers the needs of so many days from the first one on. */
    coverDays: integer().notNull().default(14),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    uniqueIndex("supplies_name_unique").on(sql`lower(${table.name})`),
    check("supplies_name_given", sql`length(trim(${table.name})) between 1 and 120`),
    check(
      "supplies_kind_known",
      sql`${table.kind} in ('soda', 'acid', 'filler', 'surfactant', 'colour', 'oil', 'scent', 'solubiliser', 'alcohol', 'water', 'other', 'cup', 'bag', 'tie', 'label', 'box', 'wrap')`,
    ),
    // From the lightest foam to heavier than any salt; nobody has to guess where it is from.
    check("supplies_density_range", sql`${table.densityGramsPerLitre} between 10 and 25000`),
    check(
      "supplies_density_has_its_source",
      sql`(${table.densityGramsPerLitre} is null) = (${table.densitySource} = '')`,
    ),
    check("supplies_evaporates_range", isShare(table.evaporatesBasisPoints)),
    check("supplies_least_on_hand", sql`${table.leastOnHand} between 0 and 1000000000000`),
    check("supplies_cover_days", sql`${table.coverDays} between 1 and 366`),
  ],
);

/** How much of a scent oil the finished product of a category may hold at most, as its supplier certifies it. */
export const scentLimits = pgTable(
  "scent_limits",
  {
    supplyId: integer()
      .notNull()
      .references(() => supplies.id),
    /** As certificates number them, such as "9" for what goes into the bath. */
    category: text().notNull(),
    /** Parts per million of the finished product's weight. */
    limitPpm: integer().notNull(),
    /** Which certificate says so. */
    source: text().notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.supplyId, table.category] }),
    check("scent_limits_category_given", sql`length(trim(${table.category})) between 1 and 12`),
    check("scent_limits_range", sql`${table.limitPpm} between 0 and 1000000`),
    check("scent_limits_source_given", sql`length(trim(${table.source})) > 0`),
  ],
);

/** A listed allergen that an ingredient holds, as its supplier states it. */
export const listedAllergens = pgTable(
  "listed_allergens",
  {
    supplyId: integer()
      .notNull()
      .references(() => supplies.id),
    /** As labels call it. */
    name: text().notNull(),
    /** Parts per million of the ingredient's weight. */
    sharePpm: integer().notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.supplyId, table.name] }),
    check("listed_allergens_name_given", sql`length(trim(${table.name})) between 1 and 120`),
    check("listed_allergens_range", sql`${table.sharePpm} between 0 and 1000000`),
  ],
);
