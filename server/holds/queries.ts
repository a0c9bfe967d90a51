import { and, asc, desc, eq, gt, inArray } from "drizzle-orm";
import { alias } from "drizzle-orm/pg-core";
import type { Database } from "../../db/connect.ts";
import { keptNow, lotHolds } from "../../db/schema/holds.ts";
import { lots } from "../../db/schema/lots.ts";
import { orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { listShelf } from "../shelf/queries.ts";
import { isStopped } from "./stops.ts";

/** Lots with pieces here, on the shelf, on trays or in boxes, of which nothing may be packed. */
export async function listStopped(db: Database) {
  return await listShelf(db, isStopped(lots.id));
}

export type StoppedShelfLot = Awaited<ReturnType<typeof listStopped>>[number];

/** When a lot was put on hold and let go, the newest first. */
export async function holdsOf(db: Database, lotId: number) {
  const releaser = alias(people, "releaser");
  return await db
    .select({
      id: lotHolds.id,
      reason: lotHolds.reason,
      putAt: lotHolds.putAt,
      putBy: people.name,
      releasedAt: lotHolds.releasedAt,
      releasedBy: releaser.name,
      releaseNote: lotHolds.releaseNote,
    })
    .from(lotHolds)
    .leftJoin(people, eq(people.id, lotHolds.putBy))
    .leftJoin(releaser, eq(releaser.id, lotHolds.releasedBy))
    .where(eq(lotHolds.lotId, lotId))
    .orderBy(desc(lotHolds.id));
}

export type LotHold = Awaited<ReturnType<typeof holdsOf>>[number];

/** For which orders pieces of a lot are kept, and how many still. */
export async function keptOfLot(db: Database, lotId: number) {
  return await db
    .select({
      orderLineId: keptNow.orderLineId,
      orderId: orders.id,
      reference: orders.reference,
      shipBy: orders.shipBy,
      units: keptNow.units,
    })
    .from(keptNow)
    .innerJoin(orders, eq(orders.id, keptNow.orderId))
    .where(eq(keptNow.lotId, lotId))
    .orderBy(asc(orders.shipBy), asc(orders.reference), asc(keptNow.orderLineId));
}

export type KeptPieces = Awaited<ReturnType<typeof keptOfLot>>[number];

/** Lines of orders to be packed that want more of a product, by promise. */
export async function linesWanting(db: Database, productId: number) {
  return await db
    .select({
      orderLineId: lineProgress.orderLineId,
      reference: orders.reference,
      shipBy: orders.shipBy,
      ordered: lineProgress.orderedUnits,
      packed: lineProgress.packedUnits,
    })
    .from(lineProgress)
    .innerJoin(orders, eq(orders.id, lineProgress.orderId))
    .where(
      and(
        eq(lineProgress.productId, productId),
        inArray(orders.state, ["confirmed", "packing"]),
        gt(lineProgress.orderedUnits, lineProgress.packedUnits),
      ),
    )
    .orderBy(asc(orders.shipBy), asc(orders.reference), asc(lineProgress.orderLineId));
}

export type WantingLine = Awaited<ReturnType<typeof linesWanting>>[number];
