import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { runs } from "../../db/schema/plans.ts";
import { products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { type LockedLot, lockLot } from "../shelf/lockLot.ts";
import { type Losses, lostUnits, traysFor } from "../shelf/lot.ts";
import { writeLosses } from "../shelf/writeLosses.ts";
import { type Drying, dryingTimes } from "./dryingTimes.ts";
import type { BenchRefusal } from "./refusals.ts";

interface Pressing {
  readonly lotId: number;
  /** All pieces that were pressed, the spoiled ones too. May be more than planned; 0 when nothing was pressed. */
  readonly pressed: number;
  /** Of these already lost. */
  readonly losses: Losses;
}

/**
 * A lot of a started run is pressed: its pieces exist from now on and dry. A lot of which nothing was pressed is
 * withdrawn. When the last lot of the run is recorded, the run is formed.
 */
export async function recordPressing(
  transaction: Transaction,
  actor: Actor,
  { lotId, pressed, losses }: Pressing,
): Promise<Result<{ readonly lotId: number }, BenchRefusal>> {
  await holdItsRun(transaction, lotId);
  const lot = await lockLot(transaction, lotId);
  if (!lot || lot.runId === null) return refuse({ kind: "no-such-lot" });
  if (lot.state !== "mixing") return refuse({ kind: "lot-moved-on", code: lot.code, state: lot.state });
  if (lostUnits(losses) > pressed) return refuse({ kind: "more-lost-than-there", there: pressed });
  if (pressed === 0) await transaction.update(lots).set({ state: "withdrawn" }).where(eq(lots.id, lotId));
  else await layOutToDry(transaction, actor, lot, { pressed, losses });
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "pressed",
    before: { state: "mixing", plannedUnits: lot.plannedUnits },
    after: { state: pressed === 0 ? "withdrawn" : "drying", pressed, losses },
  });
  await formRunWhenRecorded(transaction, actor, lot.runId);
  return ok({ lotId });
}

/** A lot's run never changes, so it may be looked up before it is held; runs are always held before their lots. */
async function holdItsRun(transaction: Transaction, lotId: number): Promise<void> {
  const [found] = await transaction.select({ runId: lots.runId }).from(lots).where(eq(lots.id, lotId));
  if (found?.runId == null) return;
  await transaction.select({ id: runs.id }).from(runs).where(eq(runs.id, found.runId)).for("update");
}

async function layOutToDry(
  transaction: Transaction,
  actor: Actor,
  lot: LockedLot,
  { pressed, losses }: { readonly pressed: number; readonly losses: Losses },
): Promise<void> {
  const { unitsPerTray, ...drying } = await dryingOf(transaction, lot.id);
  await transaction
    .update(lots)
    .set({
      state: "drying",
      formedAt: actor.at,
      ...dryingTimes(actor.at, drying),
      trays: traysFor(pressed - lostUnits(losses), unitsPerTray),
    })
    .where(eq(lots.id, lot.id));
  await transaction
    .insert(moves)
    .values({ lotId: lot.id, kind: "made", units: pressed, at: actor.at, personId: actor.personId });
  await writeLosses(transaction, actor, lot.id, losses);
}

async function dryingOf(
  transaction: Transaction,
  lotId: number,
): Promise<Drying & { readonly unitsPerTray: number }> {
  const [drying] = await transaction
    .select({
      moldMinutes: shapes.moldMinutes,
      restMinutes: shapes.restMinutes,
      unitsPerTray: shapes.unitsPerTray,
      dryingFactor: runs.dryingFactor,
    })
    .from(lots)
    .innerJoin(runs, eq(runs.id, lots.runId))
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(eq(lots.id, lotId));
  if (!drying) throw new Error(`Lot ${lotId} has no run to dry by`);
  return drying;
}

async function formRunWhenRecorded(transaction: Transaction, actor: Actor, runId: number): Promise<void> {
  const [open] = await transaction
    .select({ id: lots.id })
    .from(lots)
    .where(and(eq(lots.runId, runId), eq(lots.state, "mixing")))
    .limit(1);
  if (open) return;
  await transaction.update(runs).set({ state: "formed", formedAt: actor.at }).where(eq(runs.id, runId));
  await recordChange(transaction, actor, {
    subject: "run",
    subjectId: runId,
    what: "formed",
    before: { state: "mixing" },
    after: { state: "formed" },
  });
}
