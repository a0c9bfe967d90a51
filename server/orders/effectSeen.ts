import { and, eq, inArray, ne, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { plans } from "../../db/schema/plans.ts";
import { type Result, refuse } from "../basics/result.ts";
import type { Seals } from "../http/seals.ts";
import { fingerprintOf } from "./content.ts";
import { findOrder, listLines } from "./oneOrder.ts";
import type { OrderContent } from "./order.ts";

/** Whose effect is shown before it is done: an order as it would be; `change` null: cancelled. */
export interface Changing {
  readonly orderId: number;
  readonly change: OrderContent | null;
}

/** What a form says of the effect: nothing, or the seal of what was shown. */
type EffectRefusal = { readonly why: "effect-not-shown" } | { readonly why: "effect-outdated" };

/** The seal that the page of an effect puts on its form: it fits as long as what the effect was reckoned from stands. */
export async function sealEffect(
  db: Database | Transaction,
  seals: Seals,
  changing: Changing,
): Promise<string> {
  return seals.sealOf(WHAT, await basisOf(db, changing));
}

/**
 * Carries a change or a cancellation out where its effect was shown; otherwise it is refused, once nothing else speaks
 * against it, and what it wrote goes with the transaction.
 *
 * @param seal as the form carried it back; anything else was never shown.
 */
export async function onceShown<Value, Refusal>(
  transaction: Transaction,
  { seals, seal, ...changing }: Changing & { readonly seals: Seals; readonly seal: unknown },
  command: () => Promise<Result<Value, Refusal>>,
): Promise<Result<Value, Refusal | EffectRefusal>> {
  const basis = await basisOf(transaction, changing);
  const outcome = await command();
  if (!outcome.ok || seals.fits(seal, WHAT, basis)) return outcome;
  return refuse({ why: typeof seal === "string" && seal !== "" ? "effect-outdated" : "effect-not-shown" });
}

const WHAT = "effect on the plan";

/**
 * What an effect is reckoned from: the order as it is and as it would be, everybody else's promises, and the plan that
 * is followed. Time passing and pieces packed for others leave it as it is.
 */
async function basisOf(db: Database | Transaction, { orderId, change }: Changing): Promise<unknown> {
  const order = await findOrder(db, orderId);
  if (!order) return null;
  const lines = await listLines(db, orderId);
  const [followed] = await db.select({ id: plans.id }).from(plans).where(eq(plans.state, "accepted"));
  return {
    order: [orderId, order.state, fingerprintOf({ ...order, draft: order.state === "draft", lines })],
    packed: lines.map(({ productId, packed }) => [productId, packed]),
    change: change && [change.shipBy, change.neededBy ?? null, change.terms, change.lines.map(asked)],
    others: await promisesBeside(db, orderId),
    plan: followed?.id ?? null,
  };
}

function asked({ productId, units }: OrderContent["lines"][number]) {
  return [productId, units];
}

/** Everything that is promised and not packed yet, in one text. */
async function promisesBeside(db: Database | Transaction, orderId: number): Promise<string> {
  const line = sql`concat_ws(' ', ${orders.id}, ${orders.shipBy}, ${orders.terms}, ${orders.weight},
    ${orderLines.productId}, ${orderLines.units})`;
  const [row] = await db
    .select({ promises: sql<string>`coalesce(md5(string_agg(${line}, ',' order by ${orderLines.id})), '')` })
    .from(orders)
    .innerJoin(orderLines, eq(orderLines.orderId, orders.id))
    .where(and(inArray(orders.state, ["confirmed", "packing"]), ne(orders.id, orderId)));
  return row?.promises ?? "";
}
