import { eq, inArray, type SQL, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { products } from "../../db/schema/products.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { type MinorUnits, minorUnits } from "../money/minorUnits.ts";
import type { Rounding } from "../money/orderTotals.ts";
import { listOfCustomer, listPriceOn, ownPriceOn, type PriceInForce, priceOf, taxOn } from "./inForce.ts";
import { type AskedLine, type OrderMoney, priceOrder } from "./priceOrder.ts";

/** How a customer's money is reckoned on given days, before any line. */
export interface MoneyTerms {
  /** ISO 4217. */
  readonly currency: string;
  readonly rounding: Rounding;
  /** The list the customer buys from; null: there is none. */
  readonly priceListId: number | null;
  readonly pricesIncludeTax: boolean;
  /** Parts per million, on the day the goods leave. */
  readonly taxPpm: number;
  /** What the customer is usually given off an order and charged for sending. */
  readonly usualDiscountBasisPoints: number;
  readonly usualShippingMinor: MinorUnits;
  readonly leastOrderMinor: MinorUnits | null;
  readonly leastOrderUnits: number | null;
}

/** Whose money is reckoned, and on which days. */
interface AskedTerms {
  readonly customerId: number;
  /** The day whose tax rate holds: the goods are taxed when they leave. */
  readonly shipBy: string;
  /** A list chosen for this order; null or left out: the customer's. */
  readonly priceListId?: number | null;
}

/** @returns undefined when there is no such customer. */
export async function readMoneyTerms(
  db: Database | Transaction,
  customerId: number,
  days: Omit<AskedTerms, "customerId">,
): Promise<MoneyTerms | undefined> {
  return (await readAllTerms(db, [{ customerId, ...days }])).get(0);
}

/** By their places in what is asked, in one statement. */
async function readAllTerms(
  db: Database | Transaction,
  asked: readonly AskedTerms[],
): Promise<ReadonlyMap<number, MoneyTerms>> {
  if (asked.length === 0) return new Map();
  const wanted = askedRows(
    asked.map(({ customerId, shipBy, priceListId = null }, place) => ({
      ...{ place, customer_id: customerId, ship_by: shipBy, price_list_id: priceListId },
    })),
    sql`place integer, customer_id integer, ship_by date, price_list_id integer`,
  );
  const rows = await db
    .select({
      place: sql<number>`asked.place`,
      currency: workshop.currency,
      rounding: workshop.rounding,
      priceListId: priceLists.id,
      pricesIncludeTax: sql<boolean>`coalesce(${priceLists.includesTax}, false)`,
      taxPpm: taxOn(sql`asked.ship_by`),
      usualDiscountBasisPoints: customers.orderDiscountBasisPoints,
      usualShippingMinor: customers.shippingMinor,
      leastOrderMinor: customers.leastOrderMinor,
      leastOrderUnits: customers.leastOrderUnits,
    })
    .from(wanted)
    .innerJoin(customers, sql`${customers.id} = asked.customer_id`)
    .innerJoin(workshop, sql`true`)
    .leftJoin(priceLists, sql`${priceLists.id} = coalesce(asked.price_list_id, ${listOfCustomer})`);
  return new Map(
    rows.map(({ place, ...row }) => [
      place,
      {
        ...row,
        usualShippingMinor: minorUnits(row.usualShippingMinor),
        leastOrderMinor: row.leastOrderMinor === null ? null : minorUnits(row.leastOrderMinor),
      },
    ]),
  );
}

/**
 * What a customer pays for each product on a day; products without a price are left out.
 *
 * @param of only these products; left out: every product in use.
 */
export async function readPrices(
  db: Database | Transaction,
  asked: {
    readonly customerId: number;
    readonly priceListId: number | null;
    readonly day: string;
    readonly of?: readonly number[];
  },
): Promise<ReadonlyMap<number, PriceInForce>> {
  const productId = sql`${products.id}`;
  const day = sql`${asked.day}::date`;
  const rows = await db
    .select({
      productId: products.id,
      own: sql<string | null>`${ownPriceOn(productId, day)}`,
      list: sql<string | null>`${listPriceOn(sql`${asked.priceListId}::integer`, productId, day)}`,
    })
    .from(products)
    .innerJoin(customers, eq(customers.id, asked.customerId))
    .where(asked.of ? inArray(products.id, [...asked.of]) : sql`${products.retiredAt} is null`);
  return new Map(
    rows.flatMap((row) => {
      const price = priceOf(row);
      return price === null ? [] : [[row.productId, price] as const];
    }),
  );
}

interface AskedPrice {
  readonly customerId: number;
  readonly priceListId: number | null;
  readonly productId: number;
  readonly day: string;
}

/** Prices on many days and of many customers, in the order they are asked for, in one statement; null: there is none. */
async function readEachPrice(
  db: Database | Transaction,
  asked: readonly AskedPrice[],
): Promise<readonly (PriceInForce | null)[]> {
  if (asked.length === 0) return [];
  const wanted = askedRows(
    asked.map(({ customerId, priceListId, productId, day }, place) => ({
      ...{ place, customer_id: customerId, price_list_id: priceListId, product_id: productId, day },
    })),
    sql`place integer, customer_id integer, price_list_id integer, product_id integer, day date`,
  );
  const rows = await db
    .select({
      own: sql<string | null>`${ownPriceOn(sql`asked.product_id`, sql`asked.day`, sql`asked.customer_id`)}`,
      list: sql<
        string | null
      >`${listPriceOn(sql`asked.price_list_id`, sql`asked.product_id`, sql`asked.day`)}`,
    })
    .from(wanted)
    .orderBy(sql`asked.place`);
  return rows.map(priceOf);
}

/** What is asked for as a table of the statement, `asked`: one parameter, for Postgres takes no more than 65,535. */
function askedRows(rows: readonly object[], columns: SQL): SQL {
  return sql`json_to_recordset(${JSON.stringify(rows)}::json) as asked (${columns})`;
}

/** What is asked for, before there is an order or beside it. */
interface Asked {
  readonly customerId: number;
  /** A list chosen for this order; left out: the customer's. */
  readonly priceListId?: number | null;
  /** The day whose prices hold: today, until the order is confirmed. */
  readonly today: string;
  readonly shipBy: string;
  readonly lines: readonly AskedLine[];
  /** In what the prices of a confirmed order were fixed: its new lines are reckoned in the same way. */
  readonly fixedMoney?: Pick<OrderMoney, "currency" | "rounding" | "pricesIncludeTax"> | null;
  /** Left out: what the customer is usually given and charged. */
  readonly discountBasisPoints?: number;
  readonly shippingMinor?: MinorUnits;
}

/** What the asked-for lines would come to if they were confirmed today; undefined without such a customer. */
export async function quote(db: Database | Transaction, asked: Asked): Promise<OrderMoney | undefined> {
  return (await quoteAll(db, [asked]))[0];
}

/** The same for many at once, each in the place it was asked in: two statements, however many they are. */
export async function quoteAll(
  db: Database | Transaction,
  asked: readonly Asked[],
): Promise<readonly (OrderMoney | undefined)[]> {
  const terms = await readAllTerms(db, asked);
  const wanted = asked.flatMap(({ customerId, today, lines }, place) =>
    lines.map(({ productId }) => ({
      ...{ customerId, productId, day: today },
      priceListId: terms.get(place)?.priceListId ?? null,
    })),
  );
  const prices = (await readEachPrice(db, wanted)).values();
  return asked.map((one, place) => {
    const found = one.lines.map(() => prices.next().value ?? null);
    const ofThis = terms.get(place);
    return ofThis && reckoned(one, ofThis, found);
  });
}

/** @param prices in force for each line. */
function reckoned(
  { lines, fixedMoney, discountBasisPoints, shippingMinor }: Asked,
  terms: MoneyTerms,
  prices: readonly (PriceInForce | null)[],
): OrderMoney {
  return priceOrder({
    ...terms,
    ...fixedMoney,
    fixed: false,
    shippingTaxPpm: terms.taxPpm,
    discountBasisPoints: discountBasisPoints ?? terms.usualDiscountBasisPoints,
    shippingMinor: shippingMinor ?? terms.usualShippingMinor,
    lines: lines.map((line, place) => ({
      ...line,
      taxPpm: terms.taxPpm,
      ...(line.unitPriceMinor === null
        ? (prices[place] ?? { unitPriceMinor: null, from: "none" })
        : { unitPriceMinor: line.unitPriceMinor, from: "agreed" }),
    })),
  });
}
