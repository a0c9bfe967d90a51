import { and, desc, eq, gt, inArray } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { changes as history } from "../../db/schema/changes.ts";
import { lots } from "../../db/schema/lots.ts";
import { orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import type { EndangeredOrder, Watched, WhatHappened } from "../../views/week/endangeredWords.ts";
import type { Plan } from "../planning/plan.ts";
import { askQuestion, type Question } from "../plans/askQuestion.ts";
import { carriedInto, carriedOver } from "../plans/carriedOver.ts";
import { changesSince } from "../plans/changesSince.ts";
import { type KeptPlan, parseKeptPlan } from "../plans/keptPlan.ts";
import type { Planner } from "../plans/plannerPool.ts";
import { findAcceptedPlanId, findPlan, findPlanNames } from "../plans/queries.ts";
import type { Change } from "../plans/whatChanged.ts";
import { type Endangered, findEndangered, type PlanIt } from "./endangered.ts";

/** Wall-clock time for each plan that is compared. */
const SECONDS = 1;

/**
 * Watches over the promises of the followed plan. What it takes to find out is done in the planner's threads and
 * remembered for as long as nothing is written down: whoever looks next sees it at once.
 */
export class PromiseWatch {
  readonly #db: Database;
  readonly #planner: Planner;
  #known: { readonly key: string; readonly found: Promise<Watched> } | null = null;

  constructor(db: Database, planner: Planner) {
    this.#db = db;
    this.#planner = planner;
  }

  async look(at: Date, today: string): Promise<Watched> {
    const planId = await findAcceptedPlanId(this.#db);
    if (planId === null) return { kind: "no-plan" };
    const [newest] = await this.#db
      .select({ id: history.id })
      .from(history)
      .orderBy(desc(history.id))
      .limit(1);
    const key = `${planId} ${newest?.id ?? 0} ${today}`;
    if (this.#known?.key === key) return await this.#known.found;
    const found = this.#find(planId, at);
    this.#known = { key, found };
    const watched = await found.catch((error: unknown) => {
      this.#known = null;
      throw error;
    });
    if (watched.kind === "unknown") this.#known = null;
    return watched;
  }

  async #find(planId: number, at: Date): Promise<Watched> {
    const row = await findPlan(this.#db, planId);
    const kept = row && parseKeptPlan(row);
    if (!kept) return { kind: "no-plan" };
    if (!kept.ok) return { kind: "unreadable" };
    const question = await askQuestion(this.#db, at);
    const since = await this.#db.transaction((transaction) => changesSince(transaction, kept.value, at));
    if (!question.ok || !since.ok) return { kind: "unknown" };
    const found = await findEndangered(
      kept.value,
      question.value.planCase,
      since.value,
      this.#planFrom(kept.value, question.value),
    );
    return found === null
      ? { kind: "unknown" }
      : { kind: "known", endangered: await this.#named(found, row.asOfChange) };
  }

  /** Plans a question from what the followed plan has decided, so that no promise moves without need. */
  #planFrom(kept: KeptPlan, today: Question): PlanIt {
    const followed = { planCase: today.planCase, plan: carriedOver(kept, today) };
    const seconds = Math.min(SECONDS, this.#planner.searchSeconds);
    return async (planCase) => {
      const plans: Plan[] = [];
      const searched = await this.#planner.search(planCase, {
        ...{ seed: 1, seconds, threads: 1, start: carriedInto(planCase, followed) },
        onBetter: ({ plan }) => plans.push(plan),
      });
      return searched.ok ? [...plans, searched.value.plan] : null;
    };
  }

  async #named(found: readonly Endangered[], asOfChange: number): Promise<readonly EndangeredOrder[]> {
    const names = await findPlanNames(
      this.#db,
      found.map(({ order }) => order),
    );
    const named: EndangeredOrder[] = [];
    for (const { because, ...one } of found)
      named.push({
        ...one,
        ...names.order(one.order),
        because: because && (await whatHappened(this.#db, because, asOfChange)),
      });
    return named;
  }
}

/** The entry of the history that a change comes from, and the thing it is about. */
async function whatHappened(db: Database, change: Change, asOfChange: number): Promise<WhatHappened> {
  const subject = await subjectOf(db, change);
  const about = { change, name: subject.name };
  if (subject.ids.length === 0) return { ...about, entry: null, subjectId: null };
  const [entry] = await db
    .select({ at: history.at, person: people.name, what: history.what, subjectId: history.subjectId })
    .from(history)
    .leftJoin(people, eq(people.id, history.personId))
    .where(
      and(
        gt(history.id, asOfChange),
        eq(history.subject, subject.subject),
        inArray(history.subjectId, [...subject.ids]),
      ),
    )
    .orderBy(desc(history.id))
    .limit(1);
  return { ...about, entry: entry ?? null, subjectId: entry?.subjectId ?? subject.ids[0] ?? null };
}

interface Subject {
  readonly subject: string;
  readonly ids: readonly number[];
  /** What it is called on the pages. */
  readonly name: string;
}

async function subjectOf(db: Database, change: Change): Promise<Subject> {
  switch (change.kind) {
    case "order-new":
    case "order-gone":
    case "order-changed":
    case "more-ordered": {
      const rows = await db.select({ id: orders.id }).from(orders).where(eq(orders.reference, change.order));
      return { subject: "order", ids: rows.map(({ id }) => id), name: change.order };
    }
    case "losses-changed": {
      const rows = await db
        .select({ id: products.id, name: products.name })
        .from(products)
        .where(eq(products.code, change.product));
      return { subject: "product", ids: rows.map(({ id }) => id), name: rows[0]?.name ?? change.product };
    }
    case "supply-changed": {
      const rows = await db
        .select({ id: lots.id, name: products.name })
        .from(lots)
        .innerJoin(products, eq(products.id, lots.productId))
        .where(eq(products.code, change.product));
      return { subject: "lot", ids: rows.map(({ id }) => id), name: rows[0]?.name ?? change.product };
    }
    case "shape-changed": {
      const rows = await db
        .select({ id: shapes.id, name: shapes.name })
        .from(shapes)
        .where(eq(shapes.code, change.shape));
      return { subject: "shape", ids: rows.map(({ id }) => id), name: rows[0]?.name ?? change.shape };
    }
    case "workshop-changed":
      return { subject: "workshop", ids: [1], name: "the workshop" };
    default:
      return { subject: "calendar exception", ids: [], name: change.date };
  }
}
