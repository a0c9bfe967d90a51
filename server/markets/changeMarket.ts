import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { markets } from "../../db/schema/markets.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import { holdMarket } from "./holdMarket.ts";
import type { MarketFacts } from "./planMarket.ts";
import type { MarketRefusal } from "./refusals.ts";

type MarketChange = MarketFacts & { readonly marketId: number; readonly note: string };

/** Changes what is known of a market: its kind, place, hours, fee and note. Its date stays. */
export async function changeMarket(
  transaction: Transaction,
  actor: Actor,
  { marketId, currency, ...facts }: MarketChange,
): Promise<Result<{ readonly marketId: number }, MarketRefusal>> {
  const market = await holdMarket(transaction, marketId);
  if (!market) return refuse({ why: "no-such-market" });
  if ((await holdCurrency(transaction)) !== currency) return refuse({ why: "currency-changed" });
  await transaction.update(markets).set(facts).where(eq(markets.id, marketId));
  const { kind, place, opensMinute, closesMinute, feeMinor, loadingMinutes, note } = market;
  await recordChange(transaction, actor, {
    subject: "market",
    subjectId: marketId,
    what: "changed",
    before: { kind, place, opensMinute, closesMinute, feeMinor, loadingMinutes, note },
    after: { ...facts, currency },
  });
  return ok({ marketId });
}
