import { type SQL, sql } from "drizzle-orm";
import { customers } from "../../db/schema/customers.ts";
import { orders } from "../../db/schema/orders.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { listPrices, ownPrices } from "../../db/schema/prices.ts";
import { taxRates } from "../../db/schema/taxes.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { type MinorUnits, minorUnits } from "../money/minorUnits.ts";

/*
 * What is in force on a day, as parts of a statement: the one place that says whose price goes first. They read the
 * tables `customers` and `workshop`, and where said `orders`, of the statement they stand in.
 */

/** The list a customer buys from: its own choice, else the usual one for its kind; null where there is none. */
export const listOfCustomer: SQL<number | null> = sql`coalesce(${customers.priceListId},
  (select ${priceLists.id} from ${priceLists} where ${priceLists.usual}
    and ${priceLists.kind} = case ${customers.kind} when 'market' then 'retail' else 'wholesale' end))`;

/** The list of an order: the one chosen for it, else its customer's. */
export const listOfOrder: SQL<number | null> = sql`coalesce(${orders.priceListId}, ${listOfCustomer})`;

/** The customer's tax rate on a day, in parts per million; 0 without a group, or before its first rate. */
export function taxOn(day: SQL): SQL<number> {
  return sql`coalesce((select ${taxRates.ratePpm} from ${taxRates}
    where ${taxRates.taxGroupId} = coalesce(${customers.taxGroupId}, ${workshop.usualTaxGroupId})
      and ${taxRates.validFrom} <= ${day} order by ${taxRates.validFrom} desc limit 1), 0)`;
}

/** The price agreed with the customer for a product on a day; null: the list's. */
export function ownPriceOn(
  productId: SQL,
  day: SQL,
  customerId: SQL = sql`${customers.id}`,
): SQL<number | null> {
  return sql`(select ${ownPrices.unitPriceMinor} from ${ownPrices}
    where ${ownPrices.customerId} = ${customerId} and ${ownPrices.productId} = ${productId}
      and ${ownPrices.validFrom} <= ${day} order by ${ownPrices.validFrom} desc limit 1)`;
}

/** What a list asks for a product on a day; null: nothing, it is not on the list. */
export function listPriceOn(priceListId: SQL, productId: SQL, day: SQL): SQL<number | null> {
  return sql`(select ${listPrices.unitPriceMinor} from ${listPrices}
    where ${listPrices.priceListId} = ${priceListId} and ${listPrices.productId} = ${productId}
      and ${listPrices.validFrom} <= ${day} order by ${listPrices.validFrom} desc limit 1)`;
}

/** The price of one piece, and whether it is the customer's own or the list's. */
export interface PriceInForce {
  readonly unitPriceMinor: MinorUnits;
  readonly from: "own" | "list";
}

/** Of the two prices as a statement gives them, bigints as text: the customer's own goes first. */
export function priceOf({
  own,
  list,
}: {
  readonly own: string | null;
  readonly list: string | null;
}): PriceInForce | null {
  if (own !== null) return { unitPriceMinor: minorUnits(BigInt(own)), from: "own" };
  return list === null ? null : { unitPriceMinor: minorUnits(BigInt(list)), from: "list" };
}
