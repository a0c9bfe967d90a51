import { and, asc, desc, eq, inArray, isNull, or, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { purchases, suppliers, supplyPacks } from "../../db/schema/suppliers.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { supplyLotBalances, supplyLots, supplyMoves } from "../../db/schema/supplyLots.ts";
import { groupBy } from "../basics/groupBy.ts";
import { firstExpiredFirst, isGoodOn, isPast, type LotOnHand } from "./fefo.ts";
import { supplyKinds } from "./kinds.ts";
import { isRecalled, lotsOnHand } from "./lotsOnHand.ts";
import { tookBeyond } from "./tookBeyond.ts";

/** Moves shown on one page. */
export const MOST_MOVES = 200;

/** Used-up lots that a count may still find something of. */
const MOST_USED_UP = 4;

/*
 * Sums that stand in a select from the one table of supplies, whose columns are then written without their table's
 * name: the outer supply is named in full.
 */

/** What was used beyond what the ledger had, and no count has settled. */
const beyondOf = sql<number>`(select coalesce(-sum(m.amount), 0) from ${supplyMoves} m
  where m.supply_id = supplies.id and m.lot_id is null)::double precision`;

const onItsWay = sql<number>`(select coalesce(sum(p.amount), 0) from ${purchases} p
  where p.supply_id = supplies.id and p.state = 'open')::double precision`;

/** As kinds are offered: what there is most of first. */
const byKind = sql`array_position(array[${sql.join(
  supplyKinds.map((kind) => sql`${kind}`),
  sql`, `,
)}]::text[], ${supplies.kind})`;

/** Everything that is bought and in use, by kind and name, with what there is of it on a day. */
export async function listOnHand(db: Database, day: string) {
  const rows = await db
    .select({
      id: supplies.id,
      name: supplies.name,
      kind: supplies.kind,
      counted: supplies.counted,
      leastOnHand: supplies.leastOnHand,
      coverDays: supplies.coverDays,
      beyond: beyondOf,
      onItsWay,
      everReceived: sql<boolean>`exists (select from ${supplyLots} l where l.supply_id = supplies.id)`,
    })
    .from(supplies)
    .where(isNull(supplies.retiredAt))
    .orderBy(byKind, asc(supplies.name), asc(supplies.id));
  const held = groupBy(await lotsOnHand(db), ({ supplyId }) => supplyId);
  return rows.map((row) => {
    const its = held.get(row.id) ?? [];
    const good = its.filter((lot) => isGoodOn(lot, day));
    const sum = (some: readonly LotOnHand[]) => some.reduce((total, { amount }) => total + amount, 0);
    return {
      ...row,
      /** With something in them, good or not. */
      lots: its,
      onHand: sum(good),
      expired: sum(its.filter((lot) => !lot.recalled && isPast(lot, day))),
      recalled: sum(its.filter(({ recalled }) => recalled)),
      /** The last good day of what expires next; null: nothing does. */
      nextExpiry: good.toSorted(firstExpiredFirst)[0]?.expiresOn ?? null,
    };
  });
}

export type OnHand = Awaited<ReturnType<typeof listOnHand>>[number];

/** One supply, whatever it is for; undefined where there is none. */
export async function findSupply(db: Database, supplyId: number) {
  const [row] = await db
    .select({
      id: supplies.id,
      name: supplies.name,
      kind: supplies.kind,
      densityGramsPerLitre: supplies.densityGramsPerLitre,
      counted: supplies.counted,
      retiredAt: supplies.retiredAt,
      beyond: beyondOf,
      lastMove: sql<number>`(select coalesce(max(m.id), 0) from ${supplyMoves} m where m.supply_id = supplies.id)::double precision`,
    })
    .from(supplies)
    .where(eq(supplies.id, supplyId));
  return row;
}

export type SupplyFacts = NonNullable<Awaited<ReturnType<typeof findSupply>>>;

/** A supply's lots with something in them, in the order in which they are to be used up, then the last used-up ones. */
export async function listLots(db: Database, supplyId: number) {
  const rows = await db
    .select({
      lotId: supplyLots.id,
      code: supplyLots.code,
      supplier: suppliers.name,
      supplierLot: supplyLots.supplierLot,
      receivedOn: supplyLots.receivedOn,
      expiresOn: supplyLots.expiresOn,
      priceMinor: supplyLots.priceMinor,
      recalled: isRecalled,
      amount: supplyLotBalances.amount,
      received: sql<number>`(select m.amount from ${supplyMoves} m
        where m.lot_id = ${supplyLots.id} and m.kind = 'received')::double precision`,
    })
    .from(supplyLots)
    .innerJoin(supplyLotBalances, eq(supplyLotBalances.lotId, supplyLots.id))
    .leftJoin(suppliers, eq(suppliers.id, supplyLots.supplierId))
    .where(eq(supplyLots.supplyId, supplyId))
    .orderBy(desc(supplyLots.id));
  return {
    held: rows.filter(({ amount }) => amount > 0).toSorted(firstExpiredFirst),
    usedUp: rows.filter(({ amount }) => amount === 0).slice(0, MOST_USED_UP),
  };
}

export type SupplyLot = Awaited<ReturnType<typeof listLots>>["held"][number];

/** A supply's newest moves, the newest first, each with what all its lots had after it. */
export async function ledgerOfSupply(db: Database, supplyId: number) {
  const after = sql<number>`(sum(${supplyMoves.amount}) filter (where ${supplyMoves.lotId} is not null)
    over (order by ${supplyMoves.id}))::double precision`;
  return await db
    .select({
      id: supplyMoves.id,
      lot: supplyLots.code,
      kind: supplyMoves.kind,
      amount: supplyMoves.amount,
      cause: supplyMoves.cause,
      note: supplyMoves.note,
      at: supplyMoves.at,
      person: people.name,
      runId: supplyMoves.runId,
      blend: blends.name,
      order: orders.reference,
      after,
    })
    .from(supplyMoves)
    .leftJoin(supplyLots, eq(supplyLots.id, supplyMoves.lotId))
    .leftJoin(people, eq(people.id, supplyMoves.personId))
    .leftJoin(runs, eq(runs.id, supplyMoves.runId))
    .leftJoin(blends, eq(blends.id, runs.blendId))
    .leftJoin(orderLines, eq(orderLines.id, supplyMoves.orderLineId))
    .leftJoin(orders, eq(orders.id, orderLines.orderId))
    .where(eq(supplyMoves.supplyId, supplyId))
    .orderBy(desc(supplyMoves.id))
    .limit(MOST_MOVES);
}

export type SupplyMove = Awaited<ReturnType<typeof ledgerOfSupply>>[number];

/** In what packs suppliers in use sell a supply, the usual one first. */
export async function listPacks(db: Database, supplyId: number) {
  return await db
    .select({
      id: supplyPacks.id,
      supplierId: supplyPacks.supplierId,
      supplier: suppliers.name,
      amount: supplyPacks.amount,
      thousandths: supplyPacks.thousandths,
      unit: supplyPacks.unit,
      priceMinor: supplyPacks.priceMinor,
      leastPacks: supplyPacks.leastPacks,
      code: supplyPacks.code,
      usual: supplyPacks.usual,
    })
    .from(supplyPacks)
    .innerJoin(suppliers, eq(suppliers.id, supplyPacks.supplierId))
    .where(
      and(eq(supplyPacks.supplyId, supplyId), isNull(supplyPacks.retiredAt), isNull(suppliers.retiredAt)),
    )
    .orderBy(desc(supplyPacks.usual), asc(suppliers.name), asc(supplyPacks.amount), asc(supplyPacks.id));
}

export type SupplyPack = Awaited<ReturnType<typeof listPacks>>[number];

/** What is on its way, the next to come first: of one supply, or of all. */
export async function listPurchases(db: Database, supplyId?: number) {
  return await db
    .select({
      id: purchases.id,
      supplyId: purchases.supplyId,
      name: supplies.name,
      kind: supplies.kind,
      supplierId: purchases.supplierId,
      supplier: suppliers.name,
      amount: purchases.amount,
      priceMinor: purchases.priceMinor,
      orderedOn: purchases.orderedOn,
      dueOn: purchases.dueOn,
    })
    .from(purchases)
    .innerJoin(supplies, eq(supplies.id, purchases.supplyId))
    .innerJoin(suppliers, eq(suppliers.id, purchases.supplierId))
    .where(
      and(eq(purchases.state, "open"), supplyId === undefined ? undefined : eq(purchases.supplyId, supplyId)),
    )
    .orderBy(asc(purchases.dueOn), asc(purchases.id));
}

export type Purchase = Awaited<ReturnType<typeof listPurchases>>[number];

export async function listSupplierChoices(db: Database) {
  return await db
    .select({ id: suppliers.id, name: suppliers.name })
    .from(suppliers)
    .where(isNull(suppliers.retiredAt))
    .orderBy(asc(suppliers.name), asc(suppliers.id));
}

/** A run and its pieces, for the page that says what it took; undefined where there is none. */
export async function findWeighedRun(db: Database, runId: number) {
  const [run] = await db
    .select({
      id: runs.id,
      state: runs.state,
      blendId: runs.blendId,
      look: { name: blends.name, colour: blends.colour, pattern: blends.pattern },
      sessionDate: runs.sessionDate,
      startedAt: runs.startedAt,
    })
    .from(runs)
    .innerJoin(blends, eq(blends.id, runs.blendId))
    .where(eq(runs.id, runId));
  if (!run) return undefined;
  const codes = await db
    .select({ id: lots.id, code: lots.code, product: products.name })
    .from(lots)
    .innerJoin(products, eq(products.id, lots.productId))
    .where(eq(lots.runId, runId))
    .orderBy(asc(lots.id));
  return { ...run, lots: codes };
}

/** What a run took of each supply and lot, in the order it was taken in; a lot of null: beyond the ledger. */
export async function usesOfRun(db: Database, runId: number) {
  return await db
    .select({
      supplyId: supplyMoves.supplyId,
      name: supplies.name,
      kind: supplies.kind,
      lotId: supplyMoves.lotId,
      code: supplyLots.code,
      supplierLot: supplyLots.supplierLot,
      supplier: suppliers.name,
      expiresOn: supplyLots.expiresOn,
      amount: sql<number>`(-sum(${supplyMoves.amount}))::double precision`,
    })
    .from(supplyMoves)
    .innerJoin(supplies, eq(supplies.id, supplyMoves.supplyId))
    .leftJoin(supplyLots, eq(supplyLots.id, supplyMoves.lotId))
    .leftJoin(suppliers, eq(suppliers.id, supplyLots.supplierId))
    .where(and(eq(supplyMoves.runId, runId), inArray(supplyMoves.kind, ["used", "unused"])))
    .groupBy(supplyMoves.supplyId, supplies.id, supplyMoves.lotId, supplyLots.id, suppliers.id)
    .having(sql`sum(${supplyMoves.amount}) < 0`)
    .orderBy(sql`min(${supplyMoves.id})`);
}

export type RunUse = Awaited<ReturnType<typeof usesOfRun>>[number];

/** Lots with something in them of the supplies that are named, for a choice; none that is recalled. */
export async function lotChoices(db: Database, supplyIds: readonly number[]) {
  const rows = (await lotsOnHand(db, supplyIds)).filter(({ recalled }) => !recalled);
  return groupBy(rows.toSorted(firstExpiredFirst), ({ supplyId }) => supplyId);
}

/** Runs that were weighed out last, the newest first, and how much of all was beyond the ledger. */
export async function listWeighedRuns(db: Database) {
  return await db
    .select({
      id: runs.id,
      look: { name: blends.name, colour: blends.colour, pattern: blends.pattern },
      startedAt: runs.startedAt,
      isBeyond: tookBeyond(sql`${runs.id}`),
    })
    .from(runs)
    .innerJoin(blends, eq(blends.id, runs.blendId))
    .where(
      or(
        eq(runs.state, "mixing"),
        and(eq(runs.state, "formed"), sql`exists (select from ${supplyMoves} m where m.run_id = ${runs.id})`),
      ),
    )
    .orderBy(desc(runs.startedAt), desc(runs.id))
    .limit(12);
}

export type WeighedRunRow = Awaited<ReturnType<typeof listWeighedRuns>>[number];
