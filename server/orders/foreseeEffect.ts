import { asc, inArray } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { products } from "../../db/schema/products.ts";
import type { PlanEffect } from "../../views/orders/planEffect.ts";
import type { Order, PlanCase } from "../planning/case.ts";
import { askQuestion } from "../plans/askQuestion.ts";
import { readFollowedDecisions } from "../plans/carriedOver.ts";
import { planInTurn } from "../plans/planInTurn.ts";
import type { Planner } from "../plans/plannerPool.ts";
import { findPlanNames } from "../plans/queries.ts";
import { withOrders } from "../plans/withOrders.ts";
import type { OrderHead, OrderLineRow } from "./oneOrder.ts";
import type { OrderContent } from "./order.ts";
import { freedPieces, movedOrders } from "./planEffect.ts";
import { readShipBy } from "./shipByFor.ts";

interface Asked {
  readonly order: OrderHead;
  readonly lines: readonly OrderLineRow[];
  /** What the order would hold; null: it is cancelled. */
  readonly change: OrderContent | null;
  readonly at: Date;
}

/** What a page waits for the planner at most; it says then that it does not know. */
const MOST_WAITING_MS = 10_000;

/**
 * What a change of a confirmed order, or cancelling it, would do to everything else, before it is done. The workshop is
 * planned as it stands, from the plan that is followed, and from there as it would stand; nothing is kept.
 */
export async function foreseeEffect(db: Database, planner: Planner, asked: Asked): Promise<PlanEffect> {
  const question = await askQuestion(db, asked.at);
  if (!question.ok) return { plan: "none", moved: [], freed: [], own: null };
  const before = question.value.planCase;
  const codes = await codesOf(db, asked);
  const after = await changedCase(db, before, asked, codes);
  if (after === null) return { plan: "none", moved: [], freed: [], own: null };
  const names = await findPlanNames(
    db,
    before.orders.map(({ id }) => id),
  );
  const unpacked = new Map(
    asked.change === null ? asked.lines.map((line) => [codes.get(line.productId) ?? "", line.packed]) : [],
  );
  const freed = [...freedPieces(before, after, unpacked)].map(([product, units]) => ({
    product: names.product(product),
    units,
  }));
  if (after.orders.length === 0) return { plan: "compared", moved: [], freed, own: null };
  const followed = await readFollowedDecisions(db, question.value);
  const inTurn = { before, after, changed: asked.order.reference };
  const both = await planInTurn(planner, inTurn, followed, AbortSignal.timeout(MOST_WAITING_MS));
  if (!both.ok) return { plan: "unknown", moved: [], freed, own: null };
  const moved = movedOrders(...both.value).map((one) => ({ ...one, ...names.order(one.order) }));
  const own = both.value[1].orders.find(({ id }) => id === asked.order.reference) ?? null;
  return {
    plan: "compared",
    moved: moved.filter(({ order }) => order !== asked.order.reference),
    freed,
    own: own && { daysLate: own.daysLate, unitsShort: own.unitsShort, readyOn: own.readyOn },
  };
}

/** The codes by which the planner knows the products of the order as it is and as it would be. */
async function codesOf(db: Database, { lines, change }: Asked): Promise<ReadonlyMap<number, string>> {
  const ids = [...lines, ...(change?.lines ?? [])].map(({ productId }) => productId);
  const rows = await db
    .select({ id: products.id, code: products.code })
    .from(products)
    .where(inArray(products.id, ids))
    .orderBy(asc(products.id));
  return new Map(rows.map(({ id, code }) => [id, code]));
}

/** Null where it is more than the planner takes. */
async function changedCase(
  db: Database,
  planCase: PlanCase,
  { order, lines, change }: Asked,
  codes: ReadonlyMap<number, string>,
): Promise<PlanCase | null> {
  const others = planCase.orders.filter(({ id }) => id !== order.reference);
  const packed = new Map(lines.map((line) => [line.productId, line.packed]));
  const left = (change?.lines ?? []).flatMap(({ productId, units }) => {
    const more = units - (packed.get(productId) ?? 0);
    return more > 0 ? [{ product: codes.get(productId) ?? "", units: more }] : [];
  });
  if (change === null || left.length === 0) return { ...planCase, orders: others };
  const shipBy = change.shipBy ?? (await readShipBy(db, change.customerId, change.neededBy ?? ""));
  const changed: Order = {
    id: order.reference,
    terms: change.terms ?? order.terms,
    shipBy: shipBy ?? order.shipBy,
    weight: planCase.orders.find(({ id }) => id === order.reference)?.weight ?? 1,
    lines: left,
  };
  return withOrders(planCase, [...others, changed]);
}
