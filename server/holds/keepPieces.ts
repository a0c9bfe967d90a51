import { and, eq, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { keptNow, keptPieces } from "../../db/schema/holds.ts";
import { orders } from "../../db/schema/orders.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrderOfLine } from "../packing/lockOrder.ts";
import { type LockedLot, lockLot } from "../shelf/lockLot.ts";
import { isFormed } from "../shelf/lot.ts";
import type { HoldRefusal } from "./refusals.ts";
import { firstStopped } from "./stops.ts";

interface Keeping {
  readonly lotId: number;
  readonly orderLineId: number;
  /** At least one; what is kept already for the line is replaced. */
  readonly units: number;
}

/**
 * Keeps pieces of a lot for one line of an order: others leave them, the line takes them first. No more than nobody else
 * has kept, nor than the line still wants.
 */
export async function keepPieces(
  transaction: Transaction,
  actor: Actor,
  keeping: Keeping,
): Promise<Result<{ readonly lotId: number }, HoldRefusal>> {
  const { lotId, orderLineId, units } = keeping;
  const order = await lockOrderOfLine(transaction, orderLineId);
  if (!order) return refuse({ why: "no-such-line" });
  const { reference, state } = order;
  if (state !== "confirmed" && state !== "packing") return refuse({ why: "not-packed-now", reference });
  const lot = await lockLot(transaction, lotId);
  if (!lot) return refuse({ why: "no-such-lot" });
  const packed = await packedOf(transaction, keeping);
  const refusal = await whyNotKept(transaction, lot, keeping, reference);
  if (refusal) return refuse(refusal);
  const values = { units: units + packed, keptAt: actor.at, keptBy: actor.personId };
  await transaction
    .insert(keptPieces)
    .values({ lotId, orderLineId, ...values })
    .onConflictDoUpdate({ target: [keptPieces.lotId, keptPieces.orderLineId], set: values });
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "kept for an order",
    after: { orderLineId, reference, units },
  });
  return ok({ lotId });
}

/** Of this lot in this line's box: the row counts them too, so that pieces taken out again are kept again. */
async function packedOf(transaction: Transaction, { lotId, orderLineId }: Keeping): Promise<number> {
  const [row] = await transaction.execute<{ units: number }>(sql`
    select coalesce(-sum(units), 0)::integer as units from moves
    where order_line_id = ${orderLineId} and lot_id = ${lotId}`);
  return row?.units ?? 0;
}

async function whyNotKept(
  transaction: Transaction,
  lot: LockedLot,
  { lotId, orderLineId, units }: Keeping,
  reference: string,
): Promise<HoldRefusal | null> {
  const { code, balance } = lot;
  const [line] = await transaction
    .select()
    .from(lineProgress)
    .where(eq(lineProgress.orderLineId, orderLineId));
  if (!line) return { why: "no-such-line" };
  if (!isFormed(lot.state) || line.productId !== lot.productId) return { why: "lot-unfit", code, reference };
  const stopped = await firstStopped(transaction, [lotId]);
  if (stopped) return { why: "stopped", ...stopped };
  const left = line.orderedUnits - line.packedUnits;
  if (units > left) return { why: "line-wants-less", reference, left };
  const [others] = await transaction
    .select({ units: sql<number>`coalesce(sum(${keptNow.units}), 0)::integer` })
    .from(keptNow)
    .where(and(eq(keptNow.lotId, lotId), ne(keptNow.orderLineId, orderLineId)));
  const free = Math.max(0, balance - (others?.units ?? 0));
  return units > free ? { why: "fewer-free", code, free } : null;
}

interface LettingGo {
  readonly lotId: number;
  readonly orderLineId: number;
}

/** Whoever wants them may have the pieces that were kept for a line. */
export async function letPiecesGo(
  transaction: Transaction,
  actor: Actor,
  { lotId, orderLineId }: LettingGo,
): Promise<Result<{ readonly lotId: number }, HoldRefusal>> {
  const lot = await lockLot(transaction, lotId);
  if (!lot) return refuse({ why: "no-such-lot" });
  const [gone] = await transaction
    .delete(keptPieces)
    .where(and(eq(keptPieces.lotId, lotId), eq(keptPieces.orderLineId, orderLineId)))
    .returning();
  if (!gone) return refuse({ why: "nothing-kept", code: lot.code });
  const [order] = await transaction
    .select({ reference: orders.reference })
    .from(orders)
    .innerJoin(lineProgress, eq(lineProgress.orderId, orders.id))
    .where(eq(lineProgress.orderLineId, orderLineId));
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "no longer kept for an order",
    before: { orderLineId, reference: order?.reference, units: gone.units },
  });
  return ok({ lotId });
}
