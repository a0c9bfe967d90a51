import { and, asc, eq, getTableColumns, gt, gte, inArray, isNull, or, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { orders } from "../../db/schema/orders.ts";
import { blends, products } from "../../db/schema/products.ts";
import {
  standingOrderDates,
  standingOrderLines,
  standingOrderPauses,
  standingOrders,
} from "../../db/schema/standingOrders.ts";
import { blendLook } from "../products/blendLook.ts";
import type { SeenDate, StandingCalendar } from "./standingDates.ts";

/** A standing order with what decides its dates. */
export interface StandingOrder extends StandingCalendar {
  readonly id: number;
  readonly customerId: number;
  readonly customer: string;
  /** Whether the customer orders no longer: nothing comes up then. */
  readonly customerRetired: boolean;
  readonly note: string;
  readonly stoppedAt: Date | null;
  readonly pauses: readonly Pause[];
  /** Pieces at each date of what is still made; none: no draft comes. */
  readonly units: number;
}

export interface Pause {
  readonly id: number;
  readonly firstDate: string;
  readonly lastDate: string | null;
}

/** All of them by customer; of the dates seen to, those from a day on. */
export async function listStandingOrders(db: Database, from: string): Promise<readonly StandingOrder[]> {
  return await standingOrdersBy(db, from);
}

/** Those that go on and may have a date whose draft is to be made today: one statement, as every look asks for it. */
export async function listPerhapsDue(db: Database, today: string): Promise<readonly StandingOrder[]> {
  return await standingOrdersBy(db, today).where(
    and(
      isNull(standingOrders.stoppedAt),
      isNull(customers.retiredAt),
      sql`${standingOrders.startsOn} - ${standingOrders.daysBefore} <= ${today}::date`,
      or(isNull(standingOrders.endsOn), gte(standingOrders.endsOn, today)),
      gt(madeUnits, 0),
    ),
  );
}

export async function findStandingOrder(
  db: Database | Transaction,
  id: number,
): Promise<StandingOrder | undefined> {
  const [order] = await standingOrdersBy(db).where(eq(standingOrders.id, id));
  return order;
}

const madeUnits = sql<number>`(select coalesce(sum(${standingOrderLines.units}), 0)::integer
  from ${standingOrderLines} inner join ${products} on ${products.id} = ${standingOrderLines.productId}
  where ${standingOrderLines.standingOrderId} = ${standingOrders.id} and ${products.retiredAt} is null)`;

const pausesOf = sql<readonly Pause[]>`(select coalesce(json_agg(json_build_object(
    'id', ${standingOrderPauses.id}, 'firstDate', ${standingOrderPauses.firstDate},
    'lastDate', ${standingOrderPauses.lastDate}) order by ${standingOrderPauses.firstDate}), '[]')
  from ${standingOrderPauses} where ${standingOrderPauses.standingOrderId} = ${standingOrders.id})`;

/** All dates that were seen to, or those from a day on: they grow with the years. */
function seenOf(from?: string) {
  const wanted = and(
    eq(standingOrderDates.standingOrderId, standingOrders.id),
    from === undefined ? undefined : gte(standingOrderDates.onDate, from),
  );
  return sql<readonly SeenDate[]>`(select coalesce(json_agg(json_build_object(
      'onDate', ${standingOrderDates.onDate}, 'orderId', ${standingOrderDates.orderId})
      order by ${standingOrderDates.onDate}), '[]')
    from ${standingOrderDates} where ${wanted})`;
}

function standingOrdersBy(db: Database | Transaction, from?: string) {
  return db
    .select({
      ...getTableColumns(standingOrders),
      customer: customers.name,
      customerRetired: sql<boolean>`${customers.retiredAt} is not null`,
      stopped: sql<boolean>`${standingOrders.stoppedAt} is not null or ${customers.retiredAt} is not null`,
      units: madeUnits,
      pauses: pausesOf,
      seen: seenOf(from),
    })
    .from(standingOrders)
    .innerJoin(customers, eq(customers.id, standingOrders.customerId))
    .orderBy(asc(customers.name), asc(standingOrders.id))
    .$dynamic();
}

export type StandingLine = Awaited<ReturnType<typeof listStandingLines>>[number];

/** So many pieces of each product, by name; `retired`: it is no longer made. */
export async function listStandingLines(db: Database | Transaction, standingOrderId: number) {
  const rows = await db
    .select({
      productId: products.id,
      product: products.name,
      look: blendLook,
      units: standingOrderLines.units,
      retiredAt: products.retiredAt,
    })
    .from(standingOrderLines)
    .innerJoin(products, eq(products.id, standingOrderLines.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(eq(standingOrderLines.standingOrderId, standingOrderId))
    .orderBy(asc(products.name), asc(products.id));
  return rows.map(({ retiredAt, ...row }) => ({ ...row, retired: retiredAt !== null }));
}

/** The references of the drafts that were made, by the order's number. */
export async function listDrafts(db: Database, standingOrderId: number) {
  const rows = await db
    .select({ id: orders.id, reference: orders.reference, state: orders.state })
    .from(standingOrderDates)
    .innerJoin(orders, eq(orders.id, standingOrderDates.orderId))
    .where(eq(standingOrderDates.standingOrderId, standingOrderId));
  return new Map(rows.map((row) => [row.id, row]));
}

/** The shops that may have a standing order, and what is made; what one has already stays on offer. */
export async function listStandingChoices(db: Database, kept: readonly number[] = []) {
  return {
    customers: await db
      .select({ id: customers.id, name: customers.name })
      .from(customers)
      .where(and(eq(customers.kind, "shop"), isNull(customers.retiredAt)))
      .orderBy(asc(customers.name), asc(customers.id)),
    products: await db
      .select({ id: products.id, name: products.name, look: blendLook })
      .from(products)
      .innerJoin(blends, eq(blends.id, products.blendId))
      .where(or(isNull(products.retiredAt), inArray(products.id, [...kept])))
      .orderBy(asc(products.name), asc(products.id)),
  };
}
