import { and, asc, desc, eq, gt, inArray, max, not, or, type SQL } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { blends, products } from "../../db/schema/products.ts";
import { lineProgress, lotBalances } from "../../db/schema/sums.ts";
import { keptByLot } from "../holds/kept.ts";
import { stoppedPackaging } from "../holds/packagingStops.ts";
import { listStopped } from "../holds/queries.ts";
import { isStopped } from "../holds/stops.ts";
import { blendLook } from "../products/blendLook.ts";
import { readBox } from "./box.ts";
import { gatheredList } from "./gatheredList.ts";
import { orderSheet } from "./orderSheet.ts";
import { type CodedLot, packingList } from "./packingList.ts";
import { listPackingNotes } from "./packingNotes.ts";

/** Every order that is confirmed or being packed, by promise. */
export async function listOrdersToPack(db: Database) {
  const lines = await openLines(db);
  return packingList(lines, await lotsOf(db, productsOf(lines)));
}

/**
 * Everything that is to be taken for several orders at once, along the shelf.
 *
 * @param chosen which orders; null: those that can be packed whole now
 */
export async function readGatheredList(db: Database, chosen: readonly number[] | null) {
  const lines = await openLines(db);
  return gatheredList(lines, await lotsOf(db, productsOf(lines)), chosen);
}

/** Orders whose box is closed and still stands here, by promise. */
export async function listPackedOrders(db: Database) {
  return await db
    .select({
      orderId: orders.id,
      reference: orders.reference,
      customer: customers.name,
      shipBy: orders.shipBy,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(eq(orders.state, "packed"))
    .orderBy(asc(orders.shipBy), asc(orders.reference), asc(orders.id));
}

/** One order with its lines as the packer needs them, and where it goes; nothing else of the customer. */
export async function findOrderToPack(db: Database, orderId: number) {
  const [order] = await db
    .select({
      id: orders.id,
      reference: orders.reference,
      state: orders.state,
      terms: orders.terms,
      shipBy: orders.shipBy,
      customer: customers.name,
      address: customers.address,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(eq(orders.id, orderId));
  if (!order) return undefined;
  const own = await db
    .select({ productId: orderLines.productId })
    .from(orderLines)
    .where(eq(orderLines.orderId, orderId));
  const productIds = productsOf(own);
  const lastMoveSeen = await lastMoveOf(db, productIds);
  const lines = await openLines(db, orderId, productIds);
  const sheet = orderSheet(orderId, lines, await lotsOf(db, productIds), await readBox(db, orderId));
  const said = { notes: await listPackingNotes(db, orderId), lastMove: await lastMoveFor(db, orderId) };
  const stopped = (await listStopped(db)).filter(({ productId }) => productIds.includes(productId));
  return {
    ...order,
    ...said,
    lines: sheet,
    lastMoveSeen,
    stopped,
    stoppedPackaging: await stoppedPackaging(db, orderId),
  };
}

/** What was last put into the order's box or taken out of it, and by whom. */
async function lastMoveFor(db: Database, orderId: number) {
  const [last] = await db
    .select({ units: moves.units, lotCode: lots.code, product: products.name, person: people.name })
    .from(moves)
    .innerJoin(orderLines, eq(orderLines.id, moves.orderLineId))
    .innerJoin(lots, eq(lots.id, moves.lotId))
    .innerJoin(products, eq(products.id, lots.productId))
    .leftJoin(people, eq(people.id, moves.personId))
    .where(eq(orderLines.orderId, orderId))
    .orderBy(desc(moves.id))
    .limit(1);
  return last ?? null;
}

/** Whether a line is one of this order's, as an address says. */
export async function hasLine(db: Database, orderId: number, lineId: number): Promise<boolean> {
  const found = await db
    .select({ id: orderLines.id })
    .from(orderLines)
    .where(and(eq(orderLines.id, lineId), eq(orderLines.orderId, orderId)));
  return found.length > 0;
}

/**
 * Lines of open orders in the order of the promises; with an order named, of its products only and its own besides.
 * A line struck from its order asks for nothing.
 */
async function openLines(db: Database, orderId?: number, productIds: readonly number[] = []) {
  const open = inArray(orders.state, ["confirmed", "packing"]);
  const wanted: SQL | undefined =
    orderId === undefined
      ? open
      : and(inArray(orderLines.productId, [...productIds]), or(open, eq(orders.id, orderId)));
  return await db
    .select({
      orderId: orders.id,
      reference: orders.reference,
      customer: customers.name,
      terms: orders.terms,
      shipBy: orders.shipBy,
      state: orders.state,
      lineId: orderLines.id,
      productId: products.id,
      product: products.name,
      look: blendLook,
      ordered: lineProgress.orderedUnits,
      packed: lineProgress.packedUnits,
      shipped: lineProgress.shippedUnits,
    })
    .from(orderLines)
    .innerJoin(orders, eq(orders.id, orderLines.orderId))
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .innerJoin(products, eq(products.id, orderLines.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(lineProgress, eq(lineProgress.orderLineId, orderLines.id))
    .where(and(wanted, gt(orderLines.units, 0)))
    .orderBy(asc(orders.shipBy), asc(orders.reference), asc(orders.id), asc(orderLines.id));
}

/**
 * Lots that have pieces to be packed one day, in the order of use: ready ones by when they became ready, then the others
 * by when they will be (Postgres sorts nulls last). What is on hold is not among them.
 */
async function lotsOf(db: Database, productIds: readonly number[]): Promise<readonly CodedLot[]> {
  if (productIds.length === 0) return [];
  const rows = await db
    .select({
      id: lots.id,
      code: lots.code,
      productId: lots.productId,
      units: lotBalances.units,
      readyAt: lots.readyAt,
      readyDueAt: lots.readyDueAt,
      shelfPlace: lots.shelfPlace,
    })
    .from(lots)
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .where(
      and(
        inArray(lots.productId, [...productIds]),
        inArray(lots.state, ["ready", "drying", "resting"]),
        gt(lotBalances.units, 0),
        not(isStopped(lots.id)),
      ),
    )
    .orderBy(asc(lots.readyAt), asc(lots.readyDueAt), asc(lots.id));
  const kept = await keptByLot(db, productIds);
  return rows.map((row) => ({
    ...row,
    readyDueAt: row.readyAt === null ? row.readyDueAt : null,
    kept: kept.get(row.id) ?? [],
  }));
}

/** The last entry in the ledger of these products' lots: what a packer who looks now has seen. */
async function lastMoveOf(db: Database, productIds: readonly number[]): Promise<number> {
  const [last] = await db
    .select({ id: max(moves.id) })
    .from(moves)
    .innerJoin(lots, eq(lots.id, moves.lotId))
    .where(inArray(lots.productId, [...productIds]));
  return last?.id ?? 0;
}

function productsOf(lines: readonly { readonly productId: number }[]): readonly number[] {
  return [...new Set(lines.map((line) => line.productId))];
}
