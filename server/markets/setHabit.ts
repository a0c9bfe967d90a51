import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { marketHabits } from "../../db/schema/markets.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import type { MarketFacts } from "./planMarket.ts";
import type { MarketRefusal } from "./refusals.ts";

interface Habit extends MarketFacts {
  readonly customerId: number;
  /** The value of an RRULE; null with its dates: it comes as it comes. */
  readonly rule: string | null;
  readonly startsOn: string | null;
  readonly endsOn: string | null;
}

/** Writes down how a market usually is and when it comes again. Markets that are planned already stay as they are. */
export async function setHabit(
  transaction: Transaction,
  actor: Actor,
  { currency, ...habit }: Habit,
): Promise<Result<{ readonly customerId: number }, MarketRefusal>> {
  if ((await holdCurrency(transaction)) !== currency) return refuse({ why: "currency-changed" });
  const { customerId } = habit;
  // Held, so that two who write at once do so one after the other, each with the other's in its history.
  const [customer] = await transaction
    .select({ id: customers.id })
    .from(customers)
    .where(and(eq(customers.id, customerId), eq(customers.kind, "market")))
    .for("update");
  if (!customer) return refuse({ why: "no-such-customer" });
  const [before] = await transaction
    .select()
    .from(marketHabits)
    .where(eq(marketHabits.customerId, customerId));
  await transaction
    .insert(marketHabits)
    .values(habit)
    .onConflictDoUpdate({ target: marketHabits.customerId, set: habit });
  await recordChange(transaction, actor, {
    subject: "customer",
    subjectId: customerId,
    what: "market habit set",
    before: before ?? null,
    after: { ...habit, currency },
  });
  return ok({ customerId });
}
