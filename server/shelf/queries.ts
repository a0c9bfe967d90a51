import { and, asc, desc, eq, gt, inArray, isNull, or, type SQL, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { deliveryLines } from "../../db/schema/deliveryLines.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { blends, products } from "../../db/schema/products.ts";
import { lotBalances } from "../../db/schema/sums.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { stopsOf } from "../holds/stops.ts";
import { blendLook } from "../products/blendLook.ts";
import type { FormedState } from "./lot.ts";
import { alongTheShelf } from "./shelfPlace.ts";

const lotFacts = {
  id: lots.id,
  code: lots.code,
  runId: lots.runId,
  productId: lots.productId,
  product: products.name,
  look: blendLook,
  driesIn: shapes.driesIn,
  units: lotBalances.units,
  formedAt: lots.formedAt,
  unmoldDueAt: lots.unmoldDueAt,
  unmoldedAt: lots.unmoldedAt,
  readyDueAt: lots.readyDueAt,
  readyAt: lots.readyAt,
  shelfPlace: lots.shelfPlace,
};

/**
 * Lots that have pieces here, in a box or out of it, by product, first ready first, with what stands against packing them.
 *
 * @param which a further condition on the lots; left out: all of them
 */
export async function listShelf(db: Database, which?: SQL) {
  const boxed = groupBy(await piecesInBoxes(db), (piece) => piece.lotId);
  const rows = await db
    .select({ ...lotFacts, state: sql<FormedState>`${lots.state}` })
    .from(lots)
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(
      and(
        inArray(lots.state, ["drying", "resting", "ready"]),
        or(gt(lotBalances.units, 0), inArray(lots.id, [...boxed.keys()])),
        which,
      ),
    )
    .orderBy(
      asc(blends.shade),
      asc(products.name),
      asc(products.id),
      asc(lots.readyAt),
      asc(lots.readyDueAt),
      asc(lots.id),
    );
  const stops = await stopsOf(
    db,
    rows.map(({ id }) => id),
  );
  return rows.map((lot) => ({
    ...lot,
    boxed: boxed.get(lot.id) ?? [],
    stops: stops.get(lot.id) ?? [],
  }));
}

export type ShelfLot = Awaited<ReturnType<typeof listShelf>>[number];

/** What of each lot lies packed for which order and has not left yet. */
async function piecesInBoxes(db: Database) {
  const packed = await packedOfLots(db).where(inArray(orders.state, ["packing", "packed"]));
  return packed
    .map(({ packedUnits, shippedUnits, ...rest }) => ({ ...rest, units: packedUnits - shippedUnits }))
    .filter(({ units }) => units > 0);
}

/** Which orders took pieces of a lot, first packed first. */
export async function ordersOfLot(db: Database, lotId: number) {
  const packed = await packedOfLots(db).where(eq(moves.lotId, lotId));
  return packed.filter(({ packedUnits }) => packedUnits > 0);
}

export type OrderOfLot = Awaited<ReturnType<typeof ordersOfLot>>[number];

function packedOfLots(db: Database) {
  const shipped = db
    .select({ units: sql`coalesce(sum(${deliveryLines.units}), 0)::integer` })
    .from(deliveryLines)
    .where(and(eq(deliveryLines.orderLineId, moves.orderLineId), eq(deliveryLines.lotId, moves.lotId)));
  return db
    .select({
      lotId: moves.lotId,
      reference: orders.reference,
      packedUnits: sql<number>`-sum(${moves.units})::integer`,
      shippedUnits: sql<number>`${shipped}`,
    })
    .from(moves)
    .innerJoin(orderLines, eq(orderLines.id, moves.orderLineId))
    .innerJoin(orders, eq(orders.id, orderLines.orderId))
    .groupBy(moves.lotId, moves.orderLineId, orders.id)
    .orderBy(asc(moves.lotId), asc(sql`min(${moves.id})`))
    .$dynamic();
}

/** One lot, whatever its state; undefined where there is none. */
export async function findLot(db: Database, lotId: number) {
  const [lot] = await db
    .select({ ...lotFacts, state: lots.state, plannedUnits: lots.plannedUnits, trays: lots.trays })
    .from(lots)
    .innerJoin(lotBalances, eq(lotBalances.lotId, lots.id))
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(eq(lots.id, lotId));
  return lot;
}

export type LotFacts = NonNullable<Awaited<ReturnType<typeof findLot>>>;

/** A lot's moves, newest first, each with what there was after it. */
export async function ledgerOf(db: Database, lotId: number) {
  return await db
    .select({
      id: moves.id,
      kind: moves.kind,
      units: moves.units,
      cause: moves.cause,
      note: moves.note,
      at: moves.at,
      person: people.name,
      order: orders.reference,
      after: sql<number>`sum(${moves.units}) over (order by ${moves.id})::integer`,
    })
    .from(moves)
    .leftJoin(people, eq(people.id, moves.personId))
    .leftJoin(orderLines, eq(orderLines.id, moves.orderLineId))
    .leftJoin(orders, eq(orders.id, orderLines.orderId))
    .where(eq(moves.lotId, lotId))
    .orderBy(desc(moves.id));
}

export type LedgerMove = Awaited<ReturnType<typeof ledgerOf>>[number];

/** Ready lots that have pieces, along the shelf: those that nobody has put anywhere last. */
export async function listPlacedLots(db: Database) {
  const shelf = await listShelf(db);
  return shelf.filter((lot) => lot.state === "ready" && lot.units > 0).toSorted(alongTheShelf);
}

/** What pieces can be entered of by hand. */
export async function listProducts(db: Database) {
  return await db
    .select({ id: products.id, name: products.name })
    .from(products)
    .where(isNull(products.retiredAt))
    .orderBy(asc(products.name), asc(products.id));
}

export type StockProduct = Awaited<ReturnType<typeof listProducts>>[number];
