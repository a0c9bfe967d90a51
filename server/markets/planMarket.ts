import { and, eq, isNull } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { markets } from "../../db/schema/markets.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { MinorUnits } from "../money/minorUnits.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import type { MarketRefusal } from "./refusals.ts";

/** How a market is, or usually is. */
export interface MarketFacts {
  /** Markets of one kind are learned from together; blank: only those of the same customer. */
  readonly kind: string;
  readonly place: string;
  readonly opensMinute: number;
  readonly closesMinute: number;
  readonly feeMinor: MinorUnits;
  readonly loadingMinutes: number;
  /** ISO 4217; what the fee was typed in. */
  readonly currency: string;
}

interface NewMarket extends MarketFacts {
  readonly customerId: number;
  /** ISO 8601; a date that has gone by is taken as well, so that past markets can be learned from. */
  readonly heldOn: string;
  readonly note: string;
}

/** Writes down a market on a date. A customer has one a day. */
export async function planMarket(
  transaction: Transaction,
  actor: Actor,
  { currency, ...market }: NewMarket,
): Promise<Result<{ readonly marketId: number }, MarketRefusal>> {
  if ((await holdCurrency(transaction)) !== currency) return refuse({ why: "currency-changed" });
  const [customer] = await transaction
    .select({ name: customers.name })
    .from(customers)
    .where(
      and(eq(customers.id, market.customerId), eq(customers.kind, "market"), isNull(customers.retiredAt)),
    )
    .for("share");
  if (!customer) return refuse({ why: "no-such-customer" });
  const [row] = await transaction
    .insert(markets)
    .values({ ...market, createdAt: actor.at })
    .onConflictDoNothing({ target: [markets.customerId, markets.heldOn] })
    .returning({ id: markets.id });
  if (!row) return refuse({ why: "planned-already", marketId: await marketOn(transaction, market) });
  await recordChange(transaction, actor, {
    subject: "market",
    subjectId: row.id,
    what: "planned",
    after: { ...market, customer: customer.name, currency },
  });
  return ok({ marketId: row.id });
}

async function marketOn(
  transaction: Transaction,
  { customerId, heldOn }: Pick<NewMarket, "customerId" | "heldOn">,
): Promise<number> {
  const [market] = await transaction
    .select({ id: markets.id })
    .from(markets)
    .where(and(eq(markets.customerId, customerId), eq(markets.heldOn, heldOn)));
  if (!market) throw new Error("The market that was in the way is gone");
  return market.id;
}
