import { sql } from "drizzle-orm";
import {
  boolean,
  check,
  integer,
  pgTable,
  smallint,
  text,
  timestamp,
  uniqueIndex,
} from "drizzle-orm/pg-core";

/** What stands on every label, and by whose rules it is looked over. Its row is missing until the owner has said. */
export const labelMaker = pgTable(
  "label_maker",
  {
    id: smallint().primaryKey().default(1),
    /** none: nothing is claimed. */
    market: text({ enum: ["us", "eu", "uk", "none"] }).notNull(),
    makerName: text().notNull(),
    makerPlace: text().notNull(),
    /** Where complaints go: an address, a phone, a website. */
    contact: text().notNull(),
    adultsOnly: boolean().notNull(),
    /** The shop's own GS1 company prefix; null: it has none, and none is made up. */
    gs1Prefix: text(),
  },
  (table) => [
    check("label_maker_only_one", sql`${table.id} = 1`),
    check("label_maker_market_known", sql`${table.market} in ('us', 'eu', 'uk', 'none')`),
    check("label_maker_prefix_form", sql`${table.gs1Prefix} ~ '^[0-9]{6,11}$'`),
  ],
);

/** A sheet of labels as the shop buys it, in whole micrometres. That all of it lies on the paper is a CHECK too. */
export const labelSheets = pgTable(
  "label_sheets",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    name: text().notNull(),
    /** In which unit it was measured, and is shown again. */
    unit: text({ enum: ["mm", "in"] }).notNull(),
    paperWidthMicrometres: integer().notNull(),
    paperHeightMicrometres: integer().notNull(),
    columns: integer().notNull(),
    rows: integer().notNull(),
    labelWidthMicrometres: integer().notNull(),
    labelHeightMicrometres: integer().notNull(),
    marginLeftMicrometres: integer().notNull(),
    marginTopMicrometres: integer().notNull(),
    gapAcrossMicrometres: integer().notNull(),
    gapDownMicrometres: integer().notNull(),
    isRound: boolean().notNull(),
    retiredAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    uniqueIndex("label_sheets_name_unique").on(sql`lower(${table.name})`),
    check("label_sheets_name_given", sql`length(trim(${table.name})) between 1 and 80`),
    check("label_sheets_unit_known", sql`${table.unit} in ('mm', 'in')`),
    check("label_sheets_counts", sql`${table.columns} between 1 and 50 and ${table.rows} between 1 and 100`),
    check(
      "label_sheets_lengths",
      sql`${table.labelWidthMicrometres} > 0 and ${table.labelHeightMicrometres} > 0 and ${table.marginLeftMicrometres} >= 0
        and ${table.marginTopMicrometres} >= 0 and ${table.gapAcrossMicrometres} >= 0 and ${table.gapDownMicrometres} >= 0`,
    ),
    check(
      "label_sheets_on_the_paper",
      sql`${table.marginLeftMicrometres} + ${table.columns} * ${table.labelWidthMicrometres}
          + (${table.columns} - 1) * ${table.gapAcrossMicrometres} <= ${table.paperWidthMicrometres}
        and ${table.marginTopMicrometres} + ${table.rows} * ${table.labelHeightMicrometres}
          + (${table.rows} - 1) * ${table.gapDownMicrometres} <= ${table.paperHeightMicrometres}
        and ${table.paperWidthMicrometres} <= 1300000 and ${table.paperHeightMicrometres} <= 1300000`,
    ),
  ],
);
