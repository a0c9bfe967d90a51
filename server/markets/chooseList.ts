import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { markets } from "../../db/schema/markets.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockOrder } from "../packing/lockOrder.ts";
import { holdMarket } from "./holdMarket.ts";
import { findMarketOfOrder } from "./queries.ts";
import type { MarketRefusal } from "./refusals.ts";

interface ListOfMarket {
  readonly marketId: number;
  readonly orderId: number;
}

/** Takes an order that was entered by hand for the crate list of a market that has none. */
export async function chooseList(
  transaction: Transaction,
  actor: Actor,
  { marketId, orderId }: ListOfMarket,
): Promise<Result<{ readonly marketId: number }, MarketRefusal>> {
  const market = await holdMarket(transaction, marketId);
  if (!market) return refuse({ why: "no-such-market" });
  if (market.calledOffAt) return refuse({ why: "called-off" });
  if (market.countedAt) return refuse({ why: "counted" });
  const former = market.orderId === null ? undefined : await lockOrder(transaction, market.orderId);
  if (former && former.state !== "cancelled") return refuse({ why: "list-changed" });
  const order = await lockOrder(transaction, orderId);
  const fits = order?.customerId === market.customerId && order.terms === "market";
  if (!fits || order.state === "cancelled") return refuse({ why: "no-such-order" });
  if (await findMarketOfOrder(transaction, orderId)) return refuse({ why: "no-such-order" });
  await transaction.update(markets).set({ orderId }).where(eq(markets.id, marketId));
  await recordChange(transaction, actor, {
    subject: "market",
    subjectId: marketId,
    what: "crate list chosen",
    after: { orderId, reference: order.reference },
  });
  return ok({ marketId });
}
