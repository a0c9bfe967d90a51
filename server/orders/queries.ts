import { and, asc, count, desc, eq, inArray, isNull, or, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { blends, products } from "../../db/schema/products.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import type { OrderFilter } from "./filter.ts";
import type { OrderState } from "./order.ts";
import { conditionOf, OPEN, stateCondition } from "./search.ts";

/** Orders on one page of the list. */
export const ORDERS_A_PAGE = 50;

const CLOSED: readonly OrderState[] = ["shipped", "delivered", "cancelled"];

/**
 * One page of the orders a filter asks for, with how many there are in all. What is still to do stands by ship-by
 * date, the earliest first; what is done or everything together, the latest first.
 */
export async function listOrders(db: Database, filter: OrderFilter, today: string) {
  const wanted = conditionOf(filter, today);
  const [total] = await db
    .select({ orders: count() })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(wanted);
  const heads = await db
    .select({
      id: orders.id,
      reference: orders.reference,
      customer: customers.name,
      shipBy: orders.shipBy,
      state: orders.state,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(wanted)
    .orderBy(...inOrderOf(filter))
    .limit(ORDERS_A_PAGE)
    .offset((filter.page - 1) * ORDERS_A_PAGE);
  const progress = await progressOf(
    db,
    heads.map((head) => head.id),
  );
  return {
    rows: heads.map((head) => ({ ...head, ...(progress.get(head.id) ?? NOTHING_ORDERED) })),
    total: total?.orders ?? 0,
    latestFirst: isLatestFirst(filter),
  };
}

/** All orders a filter asks for, whatever its page, in the order of the list. */
export async function listOrderIds(
  db: Database,
  filter: OrderFilter,
  today: string,
): Promise<readonly number[]> {
  const rows = await db
    .select({ id: orders.id })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(conditionOf(filter, today))
    .orderBy(...inOrderOf(filter));
  return rows.map(({ id }) => id);
}

function isLatestFirst({ state }: OrderFilter): boolean {
  return state === "all" || CLOSED.some((closed) => closed === state);
}

function inOrderOf(filter: OrderFilter) {
  return isLatestFirst(filter)
    ? [desc(orders.shipBy), desc(orders.id)]
    : [asc(orders.shipBy), asc(orders.id)];
}

/** How far an order without a line is. */
export const NOTHING_ORDERED = { ordered: 0, packed: 0, shipped: 0 } as const;

/** Pieces ordered, packed and shipped, by order. */
export async function progressOf(db: Database, orderIds: readonly number[]) {
  const rows = await db
    .select({
      orderId: lineProgress.orderId,
      ordered: sql<number>`sum(${lineProgress.orderedUnits})::integer`,
      packed: sql<number>`sum(${lineProgress.packedUnits})::integer`,
      shipped: sql<number>`sum(${lineProgress.shippedUnits})::integer`,
    })
    .from(lineProgress)
    .where(inArray(lineProgress.orderId, [...orderIds]))
    .groupBy(lineProgress.orderId);
  return new Map(rows.map(({ orderId, ...sums }) => [orderId, sums]));
}

/** What the list opens with: how many are open, late or due today, and which leaves next. */
export async function summariseOrders(db: Database, today: string) {
  const [sums] = await db
    .select({
      open: sql<number>`count(*) filter (where ${inArray(orders.state, [...OPEN])})::integer`,
      drafts: sql<number>`count(*) filter (where ${orders.state} = 'draft')::integer`,
      late: sql<number>`count(*) filter (where ${stateCondition("late", today)})::integer`,
      all: sql<number>`count(*)::integer`,
    })
    .from(orders);
  const [next] = await db
    .select({ reference: orders.reference, customer: customers.name, shipBy: orders.shipBy })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(and(inArray(orders.state, [...OPEN]), sql`${orders.shipBy} >= ${today}`))
    .orderBy(asc(orders.shipBy), asc(orders.id))
    .limit(1);
  return { ...(sums ?? { open: 0, drafts: 0, late: 0, all: 0 }), next: next ?? null };
}

/** Everybody who has ever ordered, for the filter. */
export async function listOrderCustomers(db: Database) {
  return await db
    .selectDistinct({ id: customers.id, name: customers.name })
    .from(customers)
    .innerJoin(orders, eq(orders.customerId, customers.id))
    .orderBy(asc(customers.name), asc(customers.id));
}

/** Blends that stand on some order, for the filter. */
export async function listOrderBlends(db: Database) {
  return await db
    .selectDistinct({ id: blends.id, name: blends.name })
    .from(blends)
    .innerJoin(products, eq(products.blendId, blends.id))
    .innerJoin(orderLines, eq(orderLines.productId, products.id))
    .orderBy(asc(blends.name), asc(blends.id));
}

/** What the form offers: who orders and what is made; what an order already has stays on offer. */
export async function listChoices(
  db: Database,
  kept: { readonly customerId: number; readonly productIds: readonly number[] } = {
    customerId: 0,
    productIds: [],
  },
) {
  const offeredCustomers = await db
    .select({ id: customers.id, name: customers.name, kind: customers.kind })
    .from(customers)
    .where(or(isNull(customers.retiredAt), eq(customers.id, kept.customerId)))
    .orderBy(asc(customers.name), asc(customers.id));
  const offeredProducts = await db
    .select({ id: products.id, name: products.name })
    .from(products)
    .where(or(isNull(products.retiredAt), inArray(products.id, [...kept.productIds])))
    .orderBy(asc(products.name), asc(products.id));
  return { customers: offeredCustomers, products: offeredProducts };
}
