import {
  and,
  asc,
  desc,
  eq,
  getTableColumns,
  inArray,
  isNotNull,
  isNull,
  ne,
  or,
  type SQL,
  sql,
} from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { changes } from "../../db/schema/changes.ts";
import { customers } from "../../db/schema/customers.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { marketCounts, marketHabits, markets } from "../../db/schema/markets.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { blends, products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { datesOf } from "../recurrence/datesOf.ts";

/** Past markets on one page. */
const MOST_PAST = 40;
/** Dates of a market that comes again which are offered at once. */
const DATES_AHEAD = 3;
const MOST_CHANGES = 50;

const countedSum = (column: SQL) =>
  sql<number>`(select coalesce(sum(${column}), 0) from ${marketCounts} where ${marketCounts.marketId} = ${markets.id})::integer`;

const marketColumns = {
  ...getTableColumns(markets),
  customer: customers.name,
  address: customers.address,
  reference: orders.reference,
  orderState: orders.state,
  shipBy: orders.shipBy,
  listUnits: sql<number>`(select coalesce(sum(${orderLines.units}), 0) from ${orderLines}
    where ${orderLines.orderId} = ${markets.orderId})::integer`,
  takenUnits: countedSum(sql`${marketCounts.takenUnits}`),
  homeUnits: countedSum(sql`${marketCounts.homeUnits}`),
  givenAwayUnits: countedSum(sql`${marketCounts.givenAwayUnits}`),
  soldOutProducts: sql<number>`(select count(*) from ${marketCounts} where ${marketCounts.marketId} = ${markets.id}
    and ${marketCounts.takenUnits} > 0 and ${marketCounts.homeUnits} = 0)::integer`,
};

function selectMarkets(db: Database | Transaction) {
  return db
    .select(marketColumns)
    .from(markets)
    .innerJoin(customers, eq(customers.id, markets.customerId))
    .leftJoin(orders, eq(orders.id, markets.orderId))
    .$dynamic();
}

export type MarketRow = NonNullable<Awaited<ReturnType<typeof findMarket>>>;

export async function findMarket(db: Database | Transaction, marketId: number) {
  const [market] = await selectMarkets(db).where(eq(markets.id, marketId));
  return market;
}

/** Markets that are still to be held or to be counted, the next first. */
export async function listOpenMarkets(db: Database) {
  return await selectMarkets(db)
    .where(and(isNull(markets.countedAt), isNull(markets.calledOffAt)))
    .orderBy(asc(markets.heldOn), asc(markets.id));
}

/** Markets that are counted or called off, the latest first, at most 40. */
export async function listPastMarkets(db: Database) {
  return await selectMarkets(db)
    .where(or(isNotNull(markets.countedAt), isNotNull(markets.calledOffAt)))
    .orderBy(desc(markets.heldOn), desc(markets.id))
    .limit(MOST_PAST);
}

/** Every market in use among the customers, with how it usually is where that is written down. */
export async function listStalls(db: Database) {
  const rows = await db
    .select({
      customerId: customers.id,
      customer: customers.name,
      address: customers.address,
      habit: marketHabits,
    })
    .from(customers)
    .leftJoin(marketHabits, eq(marketHabits.customerId, customers.id))
    .where(and(eq(customers.kind, "market"), isNull(customers.retiredAt)))
    .orderBy(asc(customers.name), asc(customers.id));
  return rows;
}

export type Stall = Awaited<ReturnType<typeof listStalls>>[number];

/** The next dates on which stalls come again and nothing is written down yet, the next first. */
export async function listDatesAhead(db: Database, stalls: readonly Stall[], today: string) {
  const written = await db
    .select({ customerId: markets.customerId, heldOn: markets.heldOn })
    .from(markets)
    .where(sql`${markets.heldOn} >= ${today}::date`);
  const known = new Set(written.map(({ customerId, heldOn }) => `${customerId} ${heldOn}`));
  return stalls
    .flatMap(({ customerId, customer, habit }) => {
      const { rule, startsOn, endsOn } = habit ?? { rule: null, startsOn: null, endsOn: null };
      if (rule === null || startsOn === null) return [];
      // As many more as are written down at most, so that there are always some left to offer.
      return datesOf({ rule, startsOn, endsOn }, { from: today, most: DATES_AHEAD + written.length })
        .filter((date) => !known.has(`${customerId} ${date}`))
        .slice(0, DATES_AHEAD)
        .map((heldOn) => ({ customerId, customer, heldOn }));
    })
    .sort((one, other) =>
      one.heldOn === other.heldOn ? one.customerId - other.customerId : one.heldOn < other.heldOn ? -1 : 1,
    );
}

/** Kinds of market that were ever named. */
export async function listKinds(db: Database): Promise<readonly string[]> {
  const rows = await db
    .selectDistinct({ kind: markets.kind })
    .from(markets)
    .where(ne(markets.kind, ""))
    .orderBy(asc(markets.kind));
  return rows.map(({ kind }) => kind);
}

/** Crate lists of the customer that belong to no market yet and could be this one's. */
export async function listFreeLists(db: Database, customerId: number) {
  return await db
    .select({ id: orders.id, reference: orders.reference, shipBy: orders.shipBy, state: orders.state })
    .from(orders)
    .leftJoin(markets, eq(markets.orderId, orders.id))
    .where(
      and(
        eq(orders.customerId, customerId),
        eq(orders.terms, "market"),
        ne(orders.state, "cancelled"),
        isNull(markets.id),
      ),
    )
    .orderBy(asc(orders.shipBy), asc(orders.id))
    .limit(10);
}

/** What was counted of a market, by product. */
export async function listCounts(db: Database | Transaction, marketIds: readonly number[]) {
  return await db
    .select({
      ...getTableColumns(marketCounts),
      product: products.name,
      code: products.code,
      look: { name: blends.name, colour: blends.colour, pattern: blends.pattern },
    })
    .from(marketCounts)
    .innerJoin(products, eq(products.id, marketCounts.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(inArray(marketCounts.marketId, [...marketIds]))
    .orderBy(asc(marketCounts.marketId), ...byShapeAndShade);
}

export type CountRow = Awaited<ReturnType<typeof listCounts>>[number];

/** Products that can be taken to a stall, or (`of`) these alone whether in use or not. */
export async function listStallProducts(db: Database | Transaction, of?: readonly number[]) {
  return await db
    .select({
      productId: products.id,
      product: products.name,
      shape: shapes.name,
      blend: blends.name,
      shapeId: products.shapeId,
      blendId: products.blendId,
      makingCostMinor: products.makingCostMinor,
      look: { name: blends.name, colour: blends.colour, pattern: blends.pattern },
    })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(of ? inArray(products.id, [...of]) : isNull(products.retiredAt))
    .orderBy(...byShapeAndShade);
}

export type StallProductRow = Awaited<ReturnType<typeof listStallProducts>>[number];

/** As they lie on the stall. */
export const byShapeAndShade = [
  asc(products.shapeId),
  asc(blends.shade),
  asc(products.name),
  asc(products.id),
];

/** The lines of a crate list that are not struck. */
export async function listCrate(db: Database | Transaction, orderId: number) {
  return await db
    .select({ productId: orderLines.productId, units: orderLines.units })
    .from(orderLines)
    .where(and(eq(orderLines.orderId, orderId), sql`${orderLines.units} > 0`))
    .orderBy(asc(orderLines.id));
}

/** Who changed what of a market, the latest first. */
export async function listMarketChanges(db: Database, marketId: number) {
  return await db
    .select({ id: changes.id, at: changes.at, what: changes.what, person: people.name })
    .from(changes)
    .leftJoin(people, eq(people.id, changes.personId))
    .where(and(eq(changes.subject, "market"), eq(changes.subjectId, marketId)))
    .orderBy(desc(changes.id))
    .limit(MOST_CHANGES);
}

/** The market whose crate list an order is, with where its counting stands. */
export async function findMarketOfOrder(db: Database | Transaction, orderId: number) {
  const [market] = await db
    .select({
      id: markets.id,
      heldOn: markets.heldOn,
      countedAt: markets.countedAt,
      calledOffAt: markets.calledOffAt,
    })
    .from(markets)
    .where(eq(markets.orderId, orderId));
  return market;
}

/** Whether anything of a crate list has left. */
export async function hasLeft(db: Database | Transaction, orderId: number): Promise<boolean> {
  return (await db.$count(deliveries, eq(deliveries.orderId, orderId))) > 0;
}
