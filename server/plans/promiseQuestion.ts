import { desc, eq } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { changes } from "../../db/schema/changes.ts";
import { plans } from "../../db/schema/plans.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Order, OrderLine, PlanCase } from "../planning/case.ts";
import type { Decisions } from "../planning/plan.ts";
import { type BuiltCase, buildCase, type NoCase } from "./buildCase.ts";
import { carriedOver } from "./carriedOver.ts";
import { type KeptPlan, parseKeptPlan } from "./keptPlan.ts";
import { loadFacts } from "./loadFacts.ts";
import { whatChanged } from "./whatChanged.ts";

/** What is being typed: an order that is not there yet, or the new content of one that is. */
export interface TypedOrder {
  /** The reference of the order that is being changed: its promise does not stand beside its own change. */
  readonly changes: string | null;
  /** Products by code; those no longer made are left out of the question. */
  readonly lines: readonly OrderLine[];
  /** The ship-by date that is wished for, where there is one. */
  readonly wished: string | null;
}

/** The workshop as it stands, what it has promised, and what is being asked for. */
export interface PromiseQuestion {
  /** The orders already accepted. */
  readonly planCase: PlanCase;
  readonly newOrder: Order;
  readonly wished: string | null;
  /** What the plan that is followed, or else the newest one, decided, as far as it still can be done; null without one. */
  readonly decisions: Decisions | null;
  /** Whether that plan was made for just these orders and this workshop. */
  readonly isCurrent: boolean;
  /** Equal as long as nothing happened that a plan depends on. */
  readonly stateKey: string;
}

/** Longer than any reference, so that it is none of them. */
const typedOrderId = "the order that is being typed in at the order desk";

/** Reads the workshop as it stands at `at`, all of one moment, with the typed order as one more that is asked for. */
export async function askForPromise(
  db: Database,
  at: Date,
  typed: TypedOrder,
): Promise<Result<PromiseQuestion, NoCase | { readonly kind: "nothing-made" }>> {
  return await db.transaction(
    async (transaction) => {
      const facts = await loadFacts(transaction);
      const made = new Set(facts.products.map(({ code }) => code));
      const lines = typed.lines.filter(({ product }) => made.has(product));
      if (lines.length === 0) return refuse({ kind: "nothing-made" as const });
      const accepted = facts.orders.filter(({ reference }) => reference !== typed.changes);
      // As the last of all, whatever it wishes for.
      const asked = {
        ...{ reference: typedOrderId, terms: "complete" as const, weight: 1, lines },
        shipBy: typed.wished ?? "2199-12-31",
      };
      const built = buildCase({ ...facts, orders: [...accepted, asked] }, at);
      if (!built.ok) return built;
      const { planCase, sessionInstants } = built.value;
      const newOrder = planCase.orders.find(({ id }) => id === typedOrderId);
      if (newOrder === undefined) throw new Error("The typed order was lost on its way into the question");
      const orders = planCase.orders.filter(({ id }) => id !== typedOrderId);
      const standing = { planCase: { ...planCase, orders }, sessionInstants };
      const kept = await newestKept(transaction);
      return ok({
        planCase: standing.planCase,
        newOrder,
        wished: typed.wished,
        decisions: kept === null ? null : carriedOver(kept, standing),
        isCurrent: kept !== null && whatChanged(kept, standing, { called: new Set(), now: at }).length === 0,
        stateKey: await stateKey(transaction, standing),
      });
    },
    { isolationLevel: "repeatable read" },
  );
}

/** Null also where it can't be read back any more: the accepted orders are then planned anew. */
async function newestKept(transaction: Transaction): Promise<KeptPlan | null> {
  const [accepted] = await transaction.select().from(plans).where(eq(plans.state, "accepted"));
  if (accepted) return readKept(accepted);
  const [newest] = await transaction
    .select()
    .from(plans)
    .where(eq(plans.state, "proposed"))
    .orderBy(desc(plans.id))
    .limit(1);
  return newest ? readKept(newest) : null;
}

function readKept(row: typeof plans.$inferSelect): KeptPlan | null {
  const kept = parseKeptPlan(row);
  return kept.ok ? kept.value : null;
}

async function stateKey(transaction: Transaction, { planCase, sessionInstants }: BuiltCase): Promise<string> {
  const [newest] = await transaction
    .select({ id: changes.id })
    .from(changes)
    .orderBy(desc(changes.id))
    .limit(1);
  const ends = sessionInstants.map(({ endsAt }) => endsAt.getTime());
  return JSON.stringify([newest?.id ?? 0, ends[0], ends.length, planCase.orders.map(({ id }) => id)]);
}
