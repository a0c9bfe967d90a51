import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { markets } from "../../db/schema/markets.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrder } from "../packing/lockOrder.ts";
import { holdMarket } from "./holdMarket.ts";
import { hasLeft } from "./queries.ts";
import type { MarketRefusal } from "./refusals.ts";

interface WhichMarket {
  readonly marketId: number;
}

/** Gives a market up: bad weather, no stall. Nothing is learned from it; its crate list is left to be cancelled. */
export async function callOffMarket(
  transaction: Transaction,
  actor: Actor,
  { marketId }: WhichMarket,
): Promise<Result<WhichMarket, MarketRefusal>> {
  const market = await holdMarket(transaction, marketId);
  if (!market) return refuse({ why: "no-such-market" });
  if (market.calledOffAt) return refuse({ why: "called-off" });
  if (market.countedAt) return refuse({ why: "counted" });
  const order = market.orderId === null ? undefined : await lockOrder(transaction, market.orderId);
  if (order && (await hasLeft(transaction, order.id)))
    return refuse({ why: "crate-left", reference: order.reference });
  await transaction.update(markets).set({ calledOffAt: actor.at }).where(eq(markets.id, marketId));
  await recordChange(transaction, actor, { subject: "market", subjectId: marketId, what: "called off" });
  return ok({ marketId });
}

/** Takes a market up again that was called off. */
export async function holdAfterAll(
  transaction: Transaction,
  actor: Actor,
  { marketId }: WhichMarket,
): Promise<Result<WhichMarket, MarketRefusal>> {
  const market = await holdMarket(transaction, marketId);
  if (!market) return refuse({ why: "no-such-market" });
  if (!market.calledOffAt) return ok({ marketId });
  await transaction.update(markets).set({ calledOffAt: null }).where(eq(markets.id, marketId));
  await recordChange(transaction, actor, { subject: "market", subjectId: marketId, what: "taken up again" });
  return ok({ marketId });
}
