import { sql } from "drizzle-orm";
import {
  boolean,
  check,
  date,
  index,
  integer,
  numeric,
  pgTable,
  text,
  timestamp,
  unique,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { customers } from "./customers.ts";
import { isCharge, isShare, isTaxRate, isUnitPrice, minorUnits } from "./money.ts";
import { people } from "./people.ts";
import { priceLists } from "./priceLists.ts";
import { products } from "./products.ts";
import { stockistLinks } from "./stockistLinks.ts";

/** What a customer wants by when. A market's order is the maker's own: what should be on the stall. */
export const orders = pgTable(
  "orders",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** The number both sides quote, such as "W-104". */
    reference: text().notNull().unique(),
    customerId: integer()
      .notNull()
      .references(() => customers.id),
    terms: text({ enum: ["complete", "as-ready", "market"] }).notNull(),
    /** Last date on which it may be packed and still be on time. */
    shipBy: date().notNull(),
    /**
     * When the customer must have it, where that is known; the ship-by date follows from it when it is entered. It may
     * come before the ship-by date: then the maker promised less than was asked for.
     */
    neededBy: date(),
    weight: numeric({ precision: 5, scale: 2, mode: "number" }).notNull(),
    state: text({
      enum: ["draft", "confirmed", "packing", "packed", "shipped", "delivered", "cancelled"],
    }).notNull(),
    note: text().notNull().default(""),
    createdAt: timestamp({ withTimezone: true }).notNull(),
    confirmedAt: timestamp({ withTimezone: true }),
    packedAt: timestamp({ withTimezone: true }),
    shippedAt: timestamp({ withTimezone: true }),
    deliveredAt: timestamp({ withTimezone: true }),
    cancelledAt: timestamp({ withTimezone: true }),
    /** How it came: typed in, from a file, from a standing order, or from a shop's own order page. */
    source: text({ enum: ["typed", "file", "standing", "stockist"] })
      .notNull()
      .default("typed"),
    /** The link it was sent through. */
    stockistLinkId: integer().references(() => stockistLinks.id),
    /** What the shop was told to quote: it tells nothing of how many orders there are. */
    shopReference: text(),
    /** The customer's own number for it. */
    customerReference: text().notNull().default(""),
    /** What the customer wrote; `note` is the workshop's. */
    customerNote: text().notNull().default(""),
    /** The earliest safe ship-by date the maker was shown; null with a time: none was found within the horizon. */
    advisedShipBy: date(),
    advisedAt: timestamp({ withTimezone: true }),
    /** Who confirmed it although the advice said otherwise. */
    confirmedAgainstAdviceBy: integer().references(() => people.id),
    /** The list its prices came from; null: from none. */
    priceListId: integer().references(() => priceLists.id),
    /** Off the sum of the lines, in basis points. */
    discountBasisPoints: integer().notNull().default(0),
    /** Stated with or without tax as the prices are. */
    shippingMinor: minorUnits().notNull().default(0),
    /** When its prices were fixed: at confirmation. What follows is null until then and kept from then on. */
    pricedAt: timestamp({ withTimezone: true }),
    /** ISO 4217. */
    currency: text(),
    pricesIncludeTax: boolean(),
    /** Whether each line's money is rounded, or only the order's sums. */
    rounding: text({ enum: ["line", "order"] }),
    shippingTaxPpm: integer(),
  },
  (table) => [
    // "w-104" is W-104; also how an order is found by the number somebody typed.
    uniqueIndex("orders_reference_unique_in_any_case").on(sql`lower(${table.reference})`),
    check("orders_terms_known", sql`${table.terms} in ('complete', 'as-ready', 'market')`),
    check(
      "orders_state_known",
      sql`${table.state} in ('draft', 'confirmed', 'packing', 'packed', 'shipped', 'delivered', 'cancelled')`,
    ),
    check("orders_weight_range", sql`${table.weight} > 0 and ${table.weight} <= 100`),
    check("orders_reference_given", sql`length(trim(${table.reference})) between 1 and 40`),
    // A state and its time always agree, in both directions.
    check(
      "orders_confirmed_has_its_time",
      sql`case ${table.state} when 'draft' then ${table.confirmedAt} is null when 'cancelled' then true else ${table.confirmedAt} is not null end`,
    ),
    check(
      "orders_packed_has_its_time",
      sql`(${table.state} in ('packed', 'shipped', 'delivered')) = (${table.packedAt} is not null)`,
    ),
    check(
      "orders_shipped_has_its_time",
      sql`(${table.state} in ('shipped', 'delivered')) = (${table.shippedAt} is not null)`,
    ),
    check(
      "orders_delivered_has_its_time",
      sql`(${table.state} = 'delivered') = (${table.deliveredAt} is not null)`,
    ),
    check(
      "orders_cancelled_has_its_time",
      sql`(${table.state} = 'cancelled') = (${table.cancelledAt} is not null)`,
    ),
    check("orders_source_known", sql`${table.source} in ('typed', 'file', 'standing', 'stockist')`),
    check(
      "orders_stockist_has_its_link",
      sql`(${table.source} = 'stockist') = (${table.stockistLinkId} is not null)
        and (${table.source} = 'stockist') = (${table.shopReference} is not null)`,
    ),
    check("orders_shop_reference_form", sql`${table.shopReference} ~ '^[A-Z0-9-]{4,20}$'`),
    uniqueIndex("orders_shop_reference_unique").on(table.shopReference),
    check(
      "orders_advice_has_its_time",
      sql`${table.advisedAt} is not null or (${table.advisedShipBy} is null and ${table.confirmedAgainstAdviceBy} is null)`,
    ),
    check(
      "orders_against_advice_is_confirmed",
      sql`${table.confirmedAgainstAdviceBy} is null or ${table.confirmedAt} is not null`,
    ),
    check("orders_discount", isShare(table.discountBasisPoints)),
    check("orders_shipping", isCharge(table.shippingMinor)),
    check(
      "orders_priced_has_its_terms",
      sql`num_nulls(${table.pricedAt}, ${table.currency}, ${table.pricesIncludeTax}, ${table.rounding}, ${table.shippingTaxPpm}) in (0, 5)`,
    ),
    // A draft has no fixed prices: it is confirmed and priced at one moment.
    check("orders_priced_when_confirmed", sql`${table.pricedAt} is null or ${table.confirmedAt} is not null`),
    check("orders_currency_form", sql`${table.currency} ~ '^[A-Z]{3}$'`),
    check("orders_rounding_known", sql`${table.rounding} in ('line', 'order')`),
    check("orders_shipping_tax", isTaxRate(table.shippingTaxPpm)),
    // The lists by date of what is still to be done.
    index("orders_by_ship_by").on(table.state, table.shipBy, table.id),
    index("orders_by_customer").on(table.customerId, table.id),
  ],
);

/** So many pieces of one product. That no more is packed than ordered is guarded by a trigger in the migrations. */
export const orderLines = pgTable(
  "order_lines",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    orderId: integer()
      .notNull()
      .references(() => orders.id, { onDelete: "cascade" }),
    productId: integer()
      .notNull()
      .references(() => products.id),
    /** 0: struck from the order after pieces had been packed for it and taken out again; the ledger points at it. */
    units: integer().notNull(),
    /**
     * What one piece costs in this order, before the line's discount. In a draft: a price that was agreed and goes before
     * every list; null: as the lists say on the day of confirmation. Afterwards: fixed; null: no list had a price.
     */
    unitPriceMinor: minorUnits(),
    /** Off this line, in basis points. */
    discountBasisPoints: integer().notNull().default(0),
    /** Parts per million; fixed with the order's prices. */
    taxPpm: integer(),
  },
  (table) => [
    unique("order_lines_product_once").on(table.orderId, table.productId),
    check("order_lines_units", sql`${table.units} between 0 and 100000`),
    check("order_lines_unit_price", isUnitPrice(table.unitPriceMinor)),
    check("order_lines_discount", isShare(table.discountBasisPoints)),
    check("order_lines_tax", isTaxRate(table.taxPpm)),
  ],
);
