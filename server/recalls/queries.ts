import { asc, desc, eq, isNull } from "drizzle-orm";
import { alias } from "drizzle-orm/pg-core";
import type { Database } from "../../db/connect.ts";
import { people } from "../../db/schema/people.ts";
import { recallNotices, recalls } from "../../db/schema/recalls.ts";
import type { OrderPackedWith, OrderWithLot, TracedLot } from "../trace/queries.ts";
import { traceLot, traceSupplyLot } from "../trace/traces.ts";
import type { RecalledThing } from "./beginRecall.ts";
import { type Parcelled, whomToTell } from "./whomToTell.ts";

const enders = alias(people, "enders");

const recallFacts = {
  id: recalls.id,
  lotId: recalls.lotId,
  supplyLotId: recalls.supplyLotId,
  reason: recalls.reason,
  begunAt: recalls.begunAt,
  begunBy: people.name,
  endedAt: recalls.endedAt,
  endedBy: enders.name,
  endNote: recalls.endNote,
};

type RecallRow = Awaited<ReturnType<typeof rowsOfRecalls>>[number];

function rowsOfRecalls(db: Database) {
  return db
    .select(recallFacts)
    .from(recalls)
    .leftJoin(people, eq(people.id, recalls.begunBy))
    .leftJoin(enders, eq(enders.id, recalls.endedBy))
    .orderBy(desc(recalls.id))
    .$dynamic();
}

/** A recall with all it concerns, whom to tell and who was told; undefined where there is none. */
export async function findRecall(db: Database, recallId: number) {
  const [row] = await rowsOfRecalls(db).where(eq(recalls.id, recallId));
  return row && (await withWhatItConcerns(db, row));
}

export type ShownRecall = NonNullable<Awaited<ReturnType<typeof findRecall>>>;

/** Every recall, the newest first. */
export async function listRecalls(db: Database) {
  const rows = await rowsOfRecalls(db);
  return await Promise.all(rows.map((row) => withWhatItConcerns(db, row)));
}

/** Recalls that are not over and of which something is still to be done: somebody to tell, or something of it here. */
export async function listUnfinishedRecalls(db: Database) {
  const rows = await rowsOfRecalls(db).where(isNull(recalls.endedAt));
  const open = await Promise.all(rows.map((row) => withWhatItConcerns(db, row)));
  return open.filter(
    ({ toTell, unitsHere, amountHere, around }) =>
      toTell > 0 || unitsHere > 0 || amountHere > 0 || around.length > 0,
  );
}

/** The recall of a lot that is not over; undefined where there is none. */
export async function findOpenRecall(db: Database, { kind, id }: RecalledThing) {
  const column = kind === "lot" ? recalls.lotId : recalls.supplyLotId;
  const rows = await db
    .select({ id: recalls.id, endedAt: recalls.endedAt })
    .from(recalls)
    .where(eq(column, id))
    .orderBy(desc(recalls.id));
  return rows.find(({ endedAt }) => endedAt === null);
}

async function withWhatItConcerns(db: Database, row: RecallRow) {
  const thing: RecalledThing =
    row.lotId === null ? { kind: "supply-lot", id: row.supplyLotId ?? 0 } : { kind: "lot", id: row.lotId };
  const concerned = await readConcerned(db, thing);
  if (!concerned) throw new Error(`What recall ${row.id} is of is gone`);
  const recipients = whomToTell(concerned.sent, await noticesOf(db, row.id));
  return {
    ...row,
    ...concerned,
    ...{ thing, recipients },
    toTell: recipients.filter(({ notices }) => notices.length === 0).length,
    unitsHere: concerned.lots.reduce((sum, lot) => sum + lot.here + lot.packed, 0),
  };
}

/** What a recall of this lot would stop, and who has something of it; undefined where there is no such lot. */
export async function readConcerned(db: Database, { kind, id }: RecalledThing) {
  if (kind === "lot") {
    const trace = await traceLot(db, id);
    if (!trace) return undefined;
    const { code, product } = trace.lot;
    const lots = byId([trace.lot]);
    const sent = trace.orders.map((row) => sentPieces(row, lots));
    return {
      ...{ code, name: product, lots: [trace.lot], boxes: boxesIn(trace.orders, lots), sent },
      ...{ runs: [], amountHere: 0, around: [], supplyKind: null },
    };
  }
  const trace = await traceSupplyLot(db, id);
  if (!trace) return undefined;
  const { code, supply, onHand, kind: supplyKind } = trace.lot;
  const around = trace.packedWith.map((row) => sentAround(row, { code, name: supply }));
  const lots = byId(trace.pieces);
  const within = trace.orders.map((row) => sentPieces(row, lots));
  return {
    ...{ code, name: supply, lots: trace.pieces, boxes: boxesIn(trace.orders, lots) },
    ...{ sent: [...within, ...around], runs: trace.runs, amountHere: onHand, supplyKind },
    /** Orders here, or partly, that stand packed in it. */
    around: trace.packedWith.filter(({ here }) => here > 0),
  };
}

type LotsById = ReadonlyMap<number, TracedLot>;

function byId(lots: readonly TracedLot[]): LotsById {
  return new Map(lots.map((lot) => [lot.id, lot]));
}

function sentPieces(row: OrderWithLot, lots: LotsById): Parcelled {
  const lot = lots.get(row.lotId);
  const { orderId, reference, customerId, customer, kind, contact, address, heldOn } = row;
  return {
    ...{ orderId, reference, customerId, customer, kind, contact, address, heldOn },
    ...{ code: lot?.code ?? "", name: lot?.product ?? "", units: row.shipped - row.cameHome },
    leftAt: row.lastLeftAt === null ? null : new Date(row.lastLeftAt),
  };
}

/** With packaging around them: what of it has left. */
function sentAround(row: OrderPackedWith, what: { readonly code: string; readonly name: string }): Parcelled {
  const { orderId, reference, customerId, customer, kind, contact, address, heldOn, amount, here } = row;
  return {
    ...{ orderId, reference, customerId, customer, kind, contact, address, heldOn, ...what },
    units: row.lastLeftAt === null ? 0 : amount - here,
    leftAt: row.lastLeftAt === null ? null : new Date(row.lastLeftAt),
  };
}

/** Boxes here that pieces have to come out of. */
function boxesIn(orders: readonly OrderWithLot[], lots: LotsById) {
  return orders.flatMap(({ orderId, reference, lotId, packed }) =>
    packed > 0 ? [{ orderId, reference, units: packed, code: lots.get(lotId)?.code ?? "" }] : [],
  );
}

async function noticesOf(db: Database, recallId: number) {
  return await db
    .select({
      id: recallNotices.id,
      customerId: recallNotices.customerId,
      how: recallNotices.how,
      said: recallNotices.said,
      unitsBack: recallNotices.unitsBack,
      at: recallNotices.at,
      person: people.name,
    })
    .from(recallNotices)
    .leftJoin(people, eq(people.id, recallNotices.personId))
    .where(eq(recallNotices.recallId, recallId))
    .orderBy(asc(recallNotices.id));
}
