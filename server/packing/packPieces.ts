import { and, asc, eq, gt, inArray, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { lineProgress, lotBalances } from "../../db/schema/sums.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { keptForOthers } from "../holds/kept.ts";
import { firstStopped } from "../holds/stops.ts";
import type { Actor } from "../http/visitor.ts";
import { bookPackaging } from "../supplies/bookPackaging.ts";
import { type LockedOrder, lockOrderOfLine } from "./lockOrder.ts";
import { takesPieces } from "./orderState.ts";
import type { PackingRefusal, Taken } from "./refusals.ts";
import { gathered, type Take } from "./suggestLots.ts";

interface PiecesToPack {
  readonly orderLineId: number;
  /** At least one piece each. */
  readonly takes: readonly Take[];
  /** The number of the last move the packer saw; when given, a refusal says who was quicker. */
  readonly lastMoveSeen?: number;
}

/** Puts pieces of lots into an order's box: all of them or, when anything is in the way, none. */
export async function packPieces(
  transaction: Transaction,
  actor: Actor,
  input: PiecesToPack,
): Promise<Result<{ readonly orderId: number }, PackingRefusal>> {
  const takes = gathered(input.takes);
  if (takes.length === 0) return refuse({ why: "nothing-chosen" });
  const order = await lockOrderOfLine(transaction, input.orderLineId);
  const line = order && (await readLine(transaction, input.orderLineId));
  if (!order || !line) return refuse({ why: "no-such-line" });
  if (!takesPieces(order.state))
    return refuse({ why: "wrong-state", reference: order.reference, state: order.state });

  const shelf = await lockLots(
    transaction,
    takes.map((take) => take.lotId),
  );
  const refusal = whatIsInTheWay(line, shelf, takes) ?? (await whyLeftAlone(transaction, line, shelf, takes));
  if (refusal) return refuse(await withWhoWasQuicker(transaction, refusal, line, input.lastMoveSeen));

  await transaction.insert(moves).values(
    takes.map(({ lotId, units }) => ({
      lotId,
      kind: "packed" as const,
      units: -units,
      orderLineId: line.orderLineId,
      at: actor.at,
      personId: actor.personId,
    })),
  );
  await bookPackaging(transaction, actor, line);
  await startPacking(transaction, actor, order, { orderLineId: line.orderLineId, takes });
  return ok({ orderId: order.id });
}

type Line = typeof lineProgress.$inferSelect;
type LotOnShelf = Awaited<ReturnType<typeof lockLots>>[number];

async function readLine(transaction: Transaction, orderLineId: number): Promise<Line | undefined> {
  const [line] = await transaction
    .select()
    .from(lineProgress)
    .where(eq(lineProgress.orderLineId, orderLineId));
  return line;
}

/** Balances are read after the locks, in a statement of their own: only then do they hold what the last packer did. */
async function lockLots(transaction: Transaction, lotIds: readonly number[]) {
  const locked = await transaction
    .select({ id: lots.id, code: lots.code, productId: lots.productId, state: lots.state })
    .from(lots)
    .where(inArray(lots.id, [...lotIds]))
    .orderBy(asc(lots.id))
    .for("update");
  const balances = await transaction
    .select()
    .from(lotBalances)
    .where(inArray(lotBalances.lotId, [...lotIds]))
    .orderBy(asc(lotBalances.lotId));
  const unitsOf = new Map(balances.map((balance) => [balance.lotId, balance.units]));
  return locked.map((lot) => ({ ...lot, units: unitsOf.get(lot.id) ?? 0 }));
}

function whatIsInTheWay(
  line: Line,
  shelf: readonly LotOnShelf[],
  takes: readonly Take[],
): PackingRefusal | null {
  const wanted = takes.reduce((sum, take) => sum + take.units, 0);
  const left = line.orderedUnits - line.packedUnits;
  if (wanted > left) return { why: "line-over", left, taken: [] };
  for (const take of takes) {
    const lot = shelf.find((known) => known.id === take.lotId);
    if (!lot || lot.productId !== line.productId || lot.state !== "ready")
      return { why: "lot-unfit", lotCode: lot?.code ?? null };
    if (take.units > lot.units) return { why: "lot-short", lotCode: lot.code, left: lot.units, taken: [] };
  }
  return null;
}

/** Lots on hold, and pieces that are kept for another line. The lots are held, so that neither can change meanwhile. */
async function whyLeftAlone(
  transaction: Transaction,
  { orderLineId }: Line,
  shelf: readonly LotOnShelf[],
  takes: readonly Take[],
): Promise<PackingRefusal | null> {
  const lotIds = takes.map((take) => take.lotId);
  const stopped = await firstStopped(transaction, lotIds);
  if (stopped) return { why: "lot-stopped", ...stopped };
  const kept = await keptForOthers(transaction, orderLineId, lotIds);
  for (const { lotId, units } of takes) {
    const lot = shelf.find((known) => known.id === lotId);
    const others = kept.filter((part) => part.lotId === lotId);
    const free = (lot?.units ?? 0) - others.reduce((sum, part) => sum + part.units, 0);
    if (others.length > 0 && units > free)
      return { why: "lot-kept", lotCode: lot?.code ?? "", free: Math.max(0, free), others };
  }
  return null;
}

/** Adds to a refusal what others packed of that lot, or for that line, since the packer looked. */
async function withWhoWasQuicker(
  transaction: Transaction,
  refusal: PackingRefusal,
  line: Line,
  lastMoveSeen: number | undefined,
): Promise<PackingRefusal> {
  if (lastMoveSeen === undefined || (refusal.why !== "line-over" && refusal.why !== "lot-short"))
    return refusal;
  const where =
    refusal.why === "line-over" ? eq(moves.orderLineId, line.orderLineId) : eq(lots.code, refusal.lotCode);
  const taken: Taken[] = await transaction
    .select({ name: people.name, units: sql<number>`(-sum(${moves.units}))::integer` })
    .from(moves)
    .innerJoin(lots, eq(lots.id, moves.lotId))
    .innerJoin(people, eq(people.id, moves.personId))
    .where(and(where, gt(moves.id, lastMoveSeen), inArray(moves.kind, ["packed", "unpacked"])))
    .groupBy(people.id, people.name)
    .having(sql`-sum(${moves.units}) > 0`)
    .orderBy(asc(people.id));
  return { ...refusal, taken };
}

async function startPacking(
  transaction: Transaction,
  actor: Actor,
  order: LockedOrder,
  packed: { readonly orderLineId: number; readonly takes: readonly Take[] },
): Promise<void> {
  if (order.state !== "packing")
    await transaction.update(orders).set({ state: "packing", packedAt: null }).where(eq(orders.id, order.id));
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: order.id,
    what: "packed into",
    before: { state: order.state },
    after: { state: "packing", ...packed },
  });
}
