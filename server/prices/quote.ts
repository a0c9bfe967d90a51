import { eq, inArray, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { products } from "../../db/schema/products.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { type MinorUnits, minorUnits } from "../money/minorUnits.ts";
import type { Rounding } from "../money/orderTotals.ts";
import { listOfCustomer, listPriceOn, ownPriceOn, taxOn } from "./inForce.ts";
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

/** The price of one piece, and whether it is the customer's own or the list's. */
export interface PriceInForce {
  readonly unitPriceMinor: MinorUnits;
  readonly from: "own" | "list";
}

/**
 * @param shipBy the day whose tax rate holds: the goods are taxed when they leave.
 * @param priceListId a list chosen for this order; null: the customer's.
 * @returns undefined when there is no such customer.
 */
export async function readMoneyTerms(
  db: Database | Transaction,
  customerId: number,
  { shipBy, priceListId = null }: { readonly shipBy: string; readonly priceListId?: number | null },
): Promise<MoneyTerms | undefined> {
  const [row] = await db
    .select({
      currency: workshop.currency,
      rounding: workshop.rounding,
      priceListId: priceLists.id,
      pricesIncludeTax: sql<boolean>`coalesce(${priceLists.includesTax}, false)`,
      taxPpm: taxOn(sql`${shipBy}::date`),
      usualDiscountBasisPoints: customers.orderDiscountBasisPoints,
      usualShippingMinor: customers.shippingMinor,
      leastOrderMinor: customers.leastOrderMinor,
      leastOrderUnits: customers.leastOrderUnits,
    })
    .from(customers)
    .innerJoin(workshop, sql`true`)
    .leftJoin(priceLists, sql`${priceLists.id} = coalesce(${priceListId}::integer, ${listOfCustomer})`)
    .where(eq(customers.id, customerId));
  return (
    row && {
      ...row,
      usualShippingMinor: minorUnits(row.usualShippingMinor),
      leastOrderMinor: row.leastOrderMinor === null ? null : minorUnits(row.leastOrderMinor),
    }
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
  // The driver gives bigint expressions as text.
  return new Map(
    rows.flatMap(({ productId: id, own, list }): (readonly [number, PriceInForce])[] => {
      if (own !== null) return [[id, { unitPriceMinor: minorUnits(BigInt(own)), from: "own" }]];
      return list === null ? [] : [[id, { unitPriceMinor: minorUnits(BigInt(list)), from: "list" }]];
    }),
  );
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
  const terms = await readMoneyTerms(db, asked.customerId, asked);
  if (!terms) return undefined;
  const prices = await readPrices(db, {
    customerId: asked.customerId,
    priceListId: terms.priceListId,
    day: asked.today,
    of: asked.lines.map((line) => line.productId),
  });
  return priceOrder({
    ...terms,
    ...asked.fixedMoney,
    fixed: false,
    shippingTaxPpm: terms.taxPpm,
    discountBasisPoints: asked.discountBasisPoints ?? terms.usualDiscountBasisPoints,
    shippingMinor: asked.shippingMinor ?? terms.usualShippingMinor,
    lines: asked.lines.map((line) => ({
      ...line,
      taxPpm: terms.taxPpm,
      ...(line.unitPriceMinor === null
        ? (prices.get(line.productId) ?? { unitPriceMinor: null, from: "none" })
        : { unitPriceMinor: line.unitPriceMinor, from: "agreed" }),
    })),
  });
}
