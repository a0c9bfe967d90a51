import { asc, desc, eq, getTableColumns, isNull, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { listPrices, ownPrices } from "../../db/schema/prices.ts";
import { blends, products } from "../../db/schema/products.ts";
import { taxGroups, taxRates } from "../../db/schema/taxes.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { listOfCustomer, listPriceOn, ownPriceOn } from "./inForce.ts";

/** Groups in use first, by name, each with its rate on a day (null before the first) and the customers in it. */
export async function listTaxGroups(db: Database, today: string) {
  return await db
    .select({
      ...getTableColumns(taxGroups),
      ratePpm: sql<number | null>`(select ${taxRates.ratePpm} from ${taxRates}
        where ${taxRates.taxGroupId} = ${taxGroups.id} and ${taxRates.validFrom} <= ${today}::date
        order by ${taxRates.validFrom} desc limit 1)`,
      usual: sql<boolean>`${workshop.usualTaxGroupId} is not distinct from ${taxGroups.id}`,
      customers: sql<number>`(select count(*) from ${customers}
        where coalesce(${customers.taxGroupId}, ${workshop.usualTaxGroupId}) = ${taxGroups.id}
          and ${customers.retiredAt} is null)::integer`,
    })
    .from(taxGroups)
    .innerJoin(workshop, sql`true`)
    .orderBy(sql`${taxGroups.retiredAt} is not null`, asc(taxGroups.name), asc(taxGroups.id));
}

/** A group with all of its rates, the newest first. */
export async function findTaxGroup(db: Database, taxGroupId: number) {
  const [group] = await db.select().from(taxGroups).where(eq(taxGroups.id, taxGroupId));
  if (!group) return undefined;
  const rates = await db
    .select({ validFrom: taxRates.validFrom, ratePpm: taxRates.ratePpm })
    .from(taxRates)
    .where(eq(taxRates.taxGroupId, taxGroupId))
    .orderBy(desc(taxRates.validFrom));
  return { ...group, rates };
}

/** Lists in use first, each with how many products it has a price for on a day, and who is said to buy from it. */
export async function listPriceLists(db: Database, today: string) {
  return await db
    .select({
      ...getTableColumns(priceLists),
      priced: sql<number>`(select count(${listPriceOn(sql`${priceLists.id}`, sql`${products.id}`, sql`${today}::date`)})
        from ${products} where ${products.retiredAt} is null)::integer`,
      customers: sql<number>`(select count(*) from ${customers}
        where ${listOfCustomer} = ${priceLists.id} and ${customers.retiredAt} is null)::integer`,
    })
    .from(priceLists)
    // With a second table every column is named in full, which the inner selects need.
    .innerJoin(workshop, sql`true`)
    .orderBy(sql`${priceLists.retiredAt} is not null`, desc(priceLists.kind), asc(priceLists.name));
}

export async function findPriceList(db: Database, priceListId: number) {
  const [list] = await db.select().from(priceLists).where(eq(priceLists.id, priceListId));
  return list;
}

/** Every product in use with its price on a list on a day, and the next price that is written down already. */
export async function listPricesOn(db: Database, priceListId: number, day: string) {
  return await db
    .select({
      ...productColumns,
      price: asNumber(listPriceOn(sql`${priceListId}::integer`, sql`${products.id}`, sql`${day}::date`)),
      listPrice: sql<number | null>`null`,
      nextFrom: sql<string | null>`(select min(${listPrices.validFrom})::text from ${listPrices}
        where ${listPrices.priceListId} = ${priceListId} and ${listPrices.productId} = ${products.id}
          and ${listPrices.validFrom} > ${day}::date)`,
    })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(isNull(products.retiredAt))
    .orderBy(...byShapeAndName);
}

/** Every product in use with the customer's own price on a day, beside what the list asks it. */
export async function listOwnPricesOn(db: Database, customerId: number, day: string) {
  const productId = sql`${products.id}`;
  const on = sql`${day}::date`;
  return await db
    .select({
      ...productColumns,
      price: asNumber(ownPriceOn(productId, on)),
      listPrice: asNumber(listPriceOn(listOfCustomer, productId, on)),
      nextFrom: sql<string | null>`(select min(${ownPrices.validFrom})::text from ${ownPrices}
        where ${ownPrices.customerId} = ${customers.id} and ${ownPrices.productId} = ${products.id}
          and ${ownPrices.validFrom} > ${on})`,
    })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(customers, eq(customers.id, customerId))
    .where(isNull(products.retiredAt))
    .orderBy(...byShapeAndName);
}

/** Every product in use with what making a piece costs. */
export async function listMakingCosts(db: Database) {
  return await db
    .select({
      ...productColumns,
      price: products.makingCostMinor,
      listPrice: sql<number | null>`null`,
      nextFrom: sql<string | null>`null`,
    })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(isNull(products.retiredAt))
    .orderBy(...byShapeAndName);
}

const productColumns = {
  id: products.id,
  name: products.name,
  look: { name: blends.name, colour: blends.colour, pattern: blends.pattern },
};

/** As the products of one shape mostly cost the same. */
const byShapeAndName = [asc(products.shapeId), asc(blends.shade), asc(products.name), asc(products.id)];

/** Prices are far within what a double holds exactly; the driver would give a bigint as text. */
function asNumber(price: ReturnType<typeof sql<number | null>>) {
  return sql<number | null>`${price}::double precision`;
}
