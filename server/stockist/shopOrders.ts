import { and, asc, desc, eq, ne, or, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { orders } from "../../db/schema/orders.ts";
import type { BlendLook } from "../../views/components/Swatch.tsx";
import { type ShownParcel, withParcels } from "../delivery/parcelQueries.ts";
import { listLines } from "../orders/oneOrder.ts";
import { readOrderMoney } from "../prices/orderMoney.ts";
import type { OrderMoney } from "../prices/priceOrder.ts";

/** Orders of a shop that its page lists, the newest. */
const MOST_SHOWN = 40;

export type ShopOrderRow = Awaited<ReturnType<typeof listShopOrders>>[number];

/** A shop's own orders: what it sent, and all that the workshop took, the newest first. */
export async function listShopOrders(db: Database, customerId: number) {
  return await db
    .select(shownOrder)
    .from(orders)
    .where(isShopsOwn(customerId))
    .orderBy(desc(orders.createdAt), desc(orders.id))
    .limit(MOST_SHOWN);
}

/** One of them by the reference the shop knows it by, with its lines and its money; undefined for any other. */
export async function findShopOrder(
  db: Database,
  customerId: number,
  reference: string,
  today: string,
): Promise<ShownShopOrder | undefined> {
  // No text that Postgres keeps has a null character in it.
  if (reference.includes("\u0000")) return undefined;
  const [order] = await db
    .select({ ...shownOrder, customerNote: orders.customerNote, pricedAt: orders.pricedAt })
    .from(orders)
    .where(and(isShopsOwn(customerId), eq(knownAs, reference)))
    .orderBy(asc(orders.id));
  if (!order) return undefined;
  const money = await readOrderMoney(db, order.id, today);
  const lines = await listLines(db, order.id);
  const sent = await db
    .select({
      deliveryId: deliveries.id,
      shippedAt: deliveries.shippedAt,
      deliveredAt: deliveries.deliveredAt,
    })
    .from(deliveries)
    .where(eq(deliveries.orderId, order.id))
    .orderBy(deliveries.id);
  return {
    ...order,
    lines: lines.map(({ productId, product, units, shipped, blend, colour, pattern }) => ({
      ...{ productId, product, units, shipped },
      look: { name: blend, colour, pattern },
    })),
    money: money && money.unpriced === 0 ? money : null,
    sent: await withParcels(db, sent),
  };
}

export interface ShownShopOrder extends ShopOrderRow {
  readonly customerNote: string;
  readonly lines: readonly {
    readonly productId: number;
    readonly product: string;
    readonly units: number;
    readonly shipped: number;
    readonly look: BlendLook;
  }[];
  /** Null where it is not known in full. */
  readonly money: OrderMoney | null;
  readonly sent: readonly {
    readonly deliveryId: number;
    readonly parcels: readonly ShownParcel[];
    readonly shippedAt: Date;
    readonly deliveredAt: Date | null;
  }[];
}

/** What the shop was told to quote; for an order that came another way, the number on its slips. */
const knownAs = sql<string>`coalesce(${orders.shopReference}, ${orders.reference})`;

const shownOrder = {
  id: orders.id,
  knownAs,
  customerReference: orders.customerReference,
  state: orders.state,
  shipBy: orders.shipBy,
  neededBy: orders.neededBy,
  createdAt: orders.createdAt,
  wasConfirmed: sql<boolean>`${orders.confirmedAt} is not null`,
  // Columns of one table alone would be written without it, and the subquery take them for its own.
  units: sql<number>`(select coalesce(sum(order_lines.units), 0)::integer from order_lines
    where order_lines.order_id = orders.id)`,
};

/** Drafts that the owner made are hers until she confirms them; those the shop sent are its own from the first. */
function isShopsOwn(customerId: number) {
  return and(
    eq(orders.customerId, customerId),
    or(eq(orders.source, "stockist"), and(ne(orders.state, "draft"), sql`${orders.confirmedAt} is not null`)),
  );
}
