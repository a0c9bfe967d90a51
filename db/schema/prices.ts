import { check, date, integer, pgTable, unique } from "drizzle-orm/pg-core";
import { customers } from "./customers.ts";
import { isUnitPrice, minorUnits } from "./money.ts";
import { priceLists } from "./priceLists.ts";
import { products } from "./products.ts";

/*
 * A price holds from its date on, until the next one of the same product begins: periods follow each other without a
 * gap and cannot overlap, so no constraint has to keep them apart.
 */

/** What a list asks for a product from a date on. Null: from then on the product is not on the list. */
export const listPrices = pgTable(
  "list_prices",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    priceListId: integer()
      .notNull()
      .references(() => priceLists.id),
    productId: integer()
      .notNull()
      .references(() => products.id),
    validFrom: date().notNull(),
    unitPriceMinor: minorUnits(),
  },
  (table) => [
    // Also how the price of a day is found: the last one that begins on it or before.
    unique("list_prices_one_a_day").on(table.priceListId, table.productId, table.validFrom),
    check("list_prices_range", isUnitPrice(table.unitPriceMinor)),
  ],
);

/**
 * What one customer pays for a product from a date on, before any list; stated with or without tax as the customer's
 * list is. Null: from then on the customer pays what the list asks.
 */
export const ownPrices = pgTable(
  "own_prices",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    customerId: integer()
      .notNull()
      .references(() => customers.id),
    productId: integer()
      .notNull()
      .references(() => products.id),
    validFrom: date().notNull(),
    unitPriceMinor: minorUnits(),
  },
  (table) => [
    unique("own_prices_one_a_day").on(table.customerId, table.productId, table.validFrom),
    check("own_prices_range", isUnitPrice(table.unitPriceMinor)),
  ],
);
