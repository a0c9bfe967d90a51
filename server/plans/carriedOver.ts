import { eq } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { plans } from "../../db/schema/plans.ts";
import type { PlanCase } from "../planning/case.ts";
import type { Decisions, Supply } from "../planning/plan.ts";
import type { BuiltCase } from "./buildCase.ts";
import { type KeptPlan, parseKeptPlan } from "./keptPlan.ts";

/** The decisions of the plan that is followed, for the question as it stands; null without one that can be read. */
export async function readFollowedDecisions(
  db: Database | Transaction,
  question: BuiltCase,
): Promise<Decisions | null> {
  const [accepted] = await db.select().from(plans).where(eq(plans.state, "accepted"));
  const kept = accepted && parseKeptPlan(accepted);
  return kept?.ok ? carriedOver(kept.value, question) : null;
}

/**
 * A kept plan's decisions for the question as it stands: sessions found again by their end, no more for an order than it
 * still wants, and of what was ready-made or drying only what still is. What is left out the planner serves anew.
 */
export function carriedOver(kept: KeptPlan, now: BuiltCase): Decisions {
  return fitted(kept.plan, onInstants(kept), onInstants(now));
}

/** The same between two questions of one moment, whose sessions are told apart by their dates and clock times. */
export function carriedInto(planCase: PlanCase, from: PlannedCase): Decisions {
  return fitted(from.plan, onClock(from.planCase), onClock(planCase));
}

/** A question with what was decided for it. */
export interface PlannedCase {
  readonly planCase: PlanCase;
  readonly plan: Decisions;
}

interface Question {
  readonly planCase: PlanCase;
  /** The ends of its sessions, by which they are found again. */
  readonly ends: readonly (string | number)[];
}

function onInstants({ planCase, sessionInstants }: BuiltCase): Question {
  return { planCase, ends: sessionInstants.map(({ endsAt }) => endsAt.getTime()) };
}

function onClock(planCase: PlanCase): Question {
  return { planCase, ends: planCase.sessions.map(({ date, end }) => `${date}T${end}`) };
}

function fitted({ supplies }: Decisions, then: Question, now: Question): Decisions {
  const wanted = new Map(
    now.planCase.orders.flatMap(({ id, lines }) =>
      lines.map(({ product, units }) => [JSON.stringify([id, product]), units] as const),
    ),
  );
  const sources = new Sources(then, now);
  const fits = supplies.flatMap((supply): readonly Supply[] => {
    const line = JSON.stringify([supply.order, supply.product]);
    const left = wanted.get(line) ?? 0;
    const again = sources.find({ ...supply, units: Math.min(supply.units, left) });
    if (again === null) return [];
    wanted.set(line, left - again.units);
    return [again];
  });
  return { runs: [], supplies: fits };
}

/** Where pieces come from, found again in another question; what is ready or drying there is given out once. */
class Sources {
  readonly #then: Question;
  readonly #sessionByEnd: ReadonlyMap<string | number, number>;
  readonly #stock: { readonly product: string; left: number }[];
  readonly #drying: { readonly product: string; readonly packAt: string; left: number }[];

  constructor(then: Question, { planCase, ends }: Question) {
    this.#then = then;
    this.#sessionByEnd = new Map(ends.map((end, index) => [end, index]));
    this.#stock = planCase.stock.map(({ product, units }) => ({ product, left: units }));
    this.#drying = planCase.drying.map(({ product, packAt, units }) => ({ product, packAt, left: units }));
  }

  /** Null where there is no such thing any more, or not enough of it. */
  find(supply: Supply): Supply | null {
    const { units, product } = supply;
    if (units === 0) return null;
    switch (supply.from) {
      case "run": {
        const session = this.#sessionByEnd.get(this.#then.ends[supply.session] ?? "");
        return session === undefined ? null : { ...supply, session };
      }
      case "stock":
        return take(this.#stock, units, (there) => there.product === product) < 0 ? null : supply;
      case "drying": {
        const was = this.#then.planCase.drying[supply.drying];
        const isSame = (there: { readonly product: string; readonly packAt: string }) =>
          there.product === product && there.packAt === was?.packAt;
        const drying = take(this.#drying, units, isSame);
        return drying < 0 ? null : { ...supply, drying };
      }
    }
  }
}

/** Takes pieces of the first that fits and has enough; its place, or -1. */
function take<Source extends { left: number }>(
  sources: readonly Source[],
  units: number,
  fits: (source: Source) => boolean,
): number {
  const place = sources.findIndex((source) => source.left >= units && fits(source));
  const source = sources[place];
  if (source !== undefined) source.left -= units;
  return place;
}
