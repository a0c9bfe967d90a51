import { createHash } from "node:crypto";
import { and, asc, eq, inArray, notInArray, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { marketCounts, markets } from "../../db/schema/markets.ts";
import { products } from "../../db/schema/products.ts";
import { groupBy } from "../basics/groupBy.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { recordDelivered } from "../delivery/recordDelivered.ts";
import type { Actor } from "../http/visitor.ts";
import { promisableDates } from "../orders/today.ts";
import { lockOrder } from "../packing/lockOrder.ts";
import { type CratePart, type Homecoming, homecomings, readCrateOut, takenOf } from "./crateOut.ts";
import { type HeldMarket, holdMarket } from "./holdMarket.ts";
import type { ProductCount } from "./market.ts";
import { type CountRow, listCounts } from "./queries.ts";
import type { MarketRefusal } from "./refusals.ts";

interface CountedProduct extends ProductCount {
  readonly productId: number;
}

interface MarketCount {
  readonly marketId: number;
  /** Each product once. What was taken is believed only where no crate list tells it. */
  readonly rows: readonly CountedProduct[];
  /** What `countSeen` said when the counting began. */
  readonly seen: string;
}

/**
 * Writes down what came home from a market, for the first time or corrected. Where its crate left through the ledger,
 * what was taken is what left, and what came home goes back to its lots. The same count sent again changes nothing;
 * another one, begun before somebody else's was written, is refused.
 */
export async function countMarket(
  transaction: Transaction,
  actor: Actor,
  { marketId, rows, seen }: MarketCount,
): Promise<Result<{ readonly marketId: number }, MarketRefusal>> {
  const market = await holdMarket(transaction, marketId);
  if (!market) return refuse({ why: "no-such-market" });
  if (market.calledOffAt) return refuse({ why: "called-off" });
  const { today } = await promisableDates(transaction, actor.at, 0);
  if (market.heldOn > today) return refuse({ why: "not-over" });
  const before = await listCounts(transaction, [marketId]);
  const crate = await openCrate(transaction, market);
  if (!crate.ok) return crate;
  const counted = settled(rows, crate.value);
  if (!counted.ok) return counted;
  if (market.countedAt && sameCounts(before, counted.value)) return ok({ marketId });
  if (countSeen(before) !== seen) return refuse({ why: "counted-meanwhile" });
  if (counted.value.length === 0) return refuse({ why: "nothing-taken" });
  if (!(await areThere(transaction, counted.value))) return refuse({ why: "no-such-product" });

  const returned = await bringHome(transaction, actor, counted.value, crate.value);
  if (!returned.ok) return returned;
  if (market.orderId !== null) await tickOff(transaction, actor, market.orderId);
  await writeCounts(transaction, market, counted.value, actor.at);
  await recordChange(transaction, actor, {
    subject: "market",
    subjectId: marketId,
    what: market.countedAt ? "counted again" : "counted",
    before: before.map(writtenCount),
    after: (await listCounts(transaction, [marketId])).map(writtenCount),
  });
  return ok({ marketId });
}

/** What tells one count of a market from another; it is the same whoever wrote it and when. */
export function countSeen(counts: readonly CountedProduct[]): string {
  return createHash("sha256")
    .update(JSON.stringify([...counts].sort((one, other) => one.productId - other.productId).map(plainCount)))
    .digest("hex")
    .slice(0, 32);
}

function plainCount({ productId, takenUnits, homeUnits, givenAwayUnits, soldOutMinute }: CountedProduct) {
  return [productId, takenUnits, homeUnits, givenAwayUnits, soldOutMinute];
}

function sameCounts(before: readonly CountedProduct[], after: readonly CountedProduct[]): boolean {
  return countSeen(before) === countSeen(after);
}

/** A count as history keeps it: the product's name beside its number. */
function writtenCount({ product, ...count }: CountRow) {
  const { productId, takenUnits, homeUnits, givenAwayUnits, soldOutMinute } = count;
  return { productId, product, takenUnits, homeUnits, givenAwayUnits, soldOutMinute };
}

/** What left, its order and lots held; null where the market has no crate list of which anything could leave. */
async function openCrate(
  transaction: Transaction,
  market: HeldMarket,
): Promise<Result<readonly CratePart[] | null, MarketRefusal>> {
  const order = market.orderId === null ? undefined : await lockOrder(transaction, market.orderId);
  if (!order || order.state === "cancelled") return ok(null);
  const lotIds = [...new Set((await readCrateOut(transaction, order.id)).map(({ lotId }) => lotId))];
  if (lotIds.length === 0) return refuse({ why: "crate-not-left", reference: order.reference });
  await transaction
    .select({ id: lots.id })
    .from(lots)
    .where(inArray(lots.id, lotIds))
    .orderBy(asc(lots.id))
    .for("update");
  // Read again, now that nobody else can change it.
  return ok(await readCrateOut(transaction, order.id));
}

/** The count with what was really taken. */
function settled(
  rows: readonly CountedProduct[],
  crate: readonly CratePart[] | null,
): Result<readonly CountedProduct[], MarketRefusal> {
  const taken = crate && takenOf(crate);
  const known = rows.map((row) => ({
    ...row,
    takenUnits: taken ? (taken.get(row.productId) ?? 0) : row.takenUnits,
  }));
  const counted = known.filter(
    ({ takenUnits, homeUnits, givenAwayUnits }) => takenUnits + homeUnits + givenAwayUnits > 0,
  );
  for (const { productId, takenUnits, homeUnits, givenAwayUnits } of counted)
    if (homeUnits + givenAwayUnits > takenUnits)
      return refuse({ why: "more-than-taken", productId, units: takenUnits });
  const missing = [...(taken?.keys() ?? [])].some(
    (productId) => !counted.some((row) => row.productId === productId),
  );
  // The page showed every product that left; without one of them it is another crate than the one counted.
  return missing ? refuse({ why: "counted-meanwhile" }) : ok(counted);
}

async function areThere(transaction: Transaction, rows: readonly CountedProduct[]): Promise<boolean> {
  const ids = rows.map(({ productId }) => productId);
  return (await transaction.$count(products, inArray(products.id, ids))) === new Set(ids).size;
}

async function bringHome(
  transaction: Transaction,
  actor: Actor,
  rows: readonly CountedProduct[],
  crate: readonly CratePart[] | null,
): Promise<Result<null, MarketRefusal>> {
  const parts = groupBy(crate ?? [], ({ productId }) => productId);
  const back: Homecoming[] = [];
  for (const { productId, homeUnits } of rows) {
    const mine = parts.get(productId) ?? [];
    const ways = mine.length === 0 ? [] : homecomings(mine, homeUnits);
    if (ways === null) return refuse({ why: "gone-from-shelf", productId, units: stillHere(mine) });
    back.push(...ways);
  }
  if (back.length > 0)
    await transaction
      .insert(moves)
      .values(
        back.map((one) => ({ ...one, kind: "returned" as const, at: actor.at, personId: actor.personId })),
      );
  return ok(null);
}

/** Of what came home, as much as lies in its lots now. */
function stillHere(parts: readonly CratePart[]): number {
  return parts.reduce((sum, { homeUnits, hereUnits }) => sum + Math.min(homeUnits, hereUnits), 0);
}

/** A crate that came home had arrived. */
async function tickOff(transaction: Transaction, actor: Actor, orderId: number): Promise<void> {
  const away = await transaction
    .select({ deliveryId: deliveries.id })
    .from(deliveries)
    .where(and(eq(deliveries.orderId, orderId), eq(deliveries.state, "shipped")))
    .orderBy(asc(deliveries.id));
  for (const { deliveryId } of away) await recordDelivered(transaction, actor, { deliveryId });
}

async function writeCounts(
  transaction: Transaction,
  { id: marketId, countedAt }: HeldMarket,
  rows: readonly CountedProduct[],
  at: Date,
): Promise<void> {
  const kept = rows.map(({ productId }) => productId);
  await transaction
    .delete(marketCounts)
    .where(and(eq(marketCounts.marketId, marketId), notInArray(marketCounts.productId, kept)));
  await transaction
    .insert(marketCounts)
    .values(
      rows.map(({ productId, takenUnits, homeUnits, givenAwayUnits, soldOutMinute }) => ({
        ...{ marketId, productId, takenUnits, homeUnits, givenAwayUnits, soldOutMinute },
      })),
    )
    .onConflictDoUpdate({
      target: [marketCounts.marketId, marketCounts.productId],
      set: {
        takenUnits: sql`excluded.taken_units`,
        homeUnits: sql`excluded.home_units`,
        givenAwayUnits: sql`excluded.given_away_units`,
        soldOutMinute: sql`excluded.sold_out_minute`,
      },
    });
  if (!countedAt) await transaction.update(markets).set({ countedAt: at }).where(eq(markets.id, marketId));
}
