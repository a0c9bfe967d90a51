import { and, asc, eq, inArray, isNull, or } from "drizzle-orm";
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
import type { StandingCalendar } from "./standingDates.ts";

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
}

export interface Pause {
  readonly id: number;
  readonly firstDate: string;
  readonly lastDate: string | null;
}

/** All of them, or the one asked for: those that go on first, by customer. */
export async function readStandingOrders(
  db: Database | Transaction,
  only?: { readonly id: number },
): Promise<readonly StandingOrder[]> {
  const heads = await db
    .select({
      order: standingOrders,
      customer: customers.name,
      retiredAt: customers.retiredAt,
    })
    .from(standingOrders)
    .innerJoin(customers, eq(customers.id, standingOrders.customerId))
    .where(only && eq(standingOrders.id, only.id))
    .orderBy(asc(customers.name), asc(standingOrders.id));
  const ids = heads.map(({ order }) => order.id);
  const pauses = await db
    .select()
    .from(standingOrderPauses)
    .where(inArray(standingOrderPauses.standingOrderId, ids))
    .orderBy(asc(standingOrderPauses.firstDate));
  const seen = await db
    .select()
    .from(standingOrderDates)
    .where(inArray(standingOrderDates.standingOrderId, ids))
    .orderBy(asc(standingOrderDates.onDate));
  return heads.map(({ order, customer, retiredAt }) => ({
    ...order,
    customer,
    customerRetired: retiredAt !== null,
    stopped: order.stoppedAt !== null || retiredAt !== null,
    pauses: pauses.filter(({ standingOrderId }) => standingOrderId === order.id),
    seen: seen.filter(({ standingOrderId }) => standingOrderId === order.id),
  }));
}

export async function findStandingOrder(
  db: Database | Transaction,
  id: number,
): Promise<StandingOrder | undefined> {
  const [order] = await readStandingOrders(db, { id });
  return order;
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
