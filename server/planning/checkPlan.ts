import type { PlanCase, Shape } from "./case.ts";
import { costPlan, totalHandMinutes } from "./costPlan.ts";
import { planLoads, type SessionLoads } from "./loads.ts";
import type { Plan, Run, Supply } from "./plan.ts";
import { dayOf, type Horizon, horizonOf } from "./timing/horizon.ts";

/** The rules a plan may break, by the names the model uses. */
export type Rule =
  | "mixing"
  | "bowls"
  | "mixers"
  | "molds"
  | "trays"
  | "hands"
  | "drying-time"
  | "supply"
  | "figures"
  | "reference";

export interface Violation {
  readonly rule: Rule;
  /** Index into the case's sessions, where the rule is one of a session. */
  readonly session: number | null;
  /** What is wrong, in plain words with the numbers. */
  readonly detail: string;
}

/** Sums of decimal minutes and grams differ in their last digits; a millionth of either is nobody's work. */
const tolerance = 1e-6;

/**
 * Every rule of the model a plan breaks; empty when the plan is allowed. Works from the case and the plan alone, and
 * shares nothing with the search, so that a mistake there cannot excuse itself here.
 */
export function checkPlan(planCase: PlanCase, plan: Plan): readonly Violation[] {
  const broken = wrongReferences(planCase, plan);
  if (broken.length > 0) return broken;
  const horizon = horizonOf(planCase);
  const untimely = runsThatCannotDry(planCase, plan, horizon);
  if (untimely.length > 0) return untimely;
  return [
    ...plan.runs.flatMap((run) => bowlViolations(planCase, run)),
    ...repeatedRuns(plan.runs),
    ...planLoads(planCase, plan).flatMap((loads, session) => sessionViolations(planCase, loads, session)),
    ...supplyViolations(planCase, plan, horizon),
    ...figureViolations(planCase, plan),
  ];
}

function wrongReferences(planCase: PlanCase, plan: Plan): readonly Violation[] {
  const blends = new Set(planCase.blends.map((blend) => blend.id));
  const products = new Map(planCase.products.map((product) => [product.id, product]));
  const lines = new Set(
    planCase.orders.flatMap((order) => order.lines.map((line) => lineKey(order.id, line.product))),
  );
  const violations: Violation[] = [];
  const report = (detail: string, session: number | null = null) =>
    violations.push({ rule: "reference", session, detail });
  for (const run of plan.runs) {
    if (planCase.sessions[run.session] === undefined) report(`there is no session ${run.session}`);
    if (!blends.has(run.blend)) report(`there is no blend ${run.blend}`);
    if (!isCount(run.bowls)) report(`a run of ${run.blend} has ${run.bowls} bowls`, run.session);
    for (const { product, units } of run.pieces) {
      if (!isCount(units)) report(`a run of ${run.blend} presses ${units} of ${product}`, run.session);
      if (products.get(product)?.blend !== run.blend)
        report(`${product} is not pressed from ${run.blend}`, run.session);
    }
    if (new Set(run.pieces.map((pieces) => pieces.product)).size < run.pieces.length) {
      report(`a run of ${run.blend} names a product twice`, run.session);
    }
    if (run.pieces.length === 0) report(`a run of ${run.blend} presses nothing`, run.session);
  }
  for (const supply of plan.supplies) {
    if (!lines.has(lineKey(supply.order, supply.product))) {
      report(`order ${supply.order} does not ask for ${supply.product}`);
    }
    if (supply.units !== 0 && !isCount(supply.units))
      report(`order ${supply.order} is served ${supply.units} units`);
    if (supply.from === "drying" && planCase.drying[supply.drying]?.product !== supply.product) {
      report(`drying entry ${supply.drying} is not ${supply.product}`);
    }
  }
  return violations;
}

function runsThatCannotDry(planCase: PlanCase, plan: Plan, horizon: Horizon): readonly Violation[] {
  const shapeOf = shapesByProduct(planCase);
  return plan.runs.flatMap((run) =>
    run.pieces
      .filter(({ product }) => horizon.ofForming(shapeOf(product), run.session).pack === null)
      .map(({ product }) => ({
        rule: "drying-time" as const,
        session: run.session,
        detail: `${product} formed here is not dry and rested before the sessions end`,
      })),
  );
}

function bowlViolations(planCase: PlanCase, run: Run): readonly Violation[] {
  const shapeOf = shapesByProduct(planCase);
  const grams = run.pieces.reduce((sum, { product, units }) => sum + units * shapeOf(product).grams, 0);
  const least = run.bowls * planCase.minBowlGrams;
  const most = run.bowls * planCase.bowlGrams;
  const violations: Violation[] = [];
  const report = (rule: Rule, detail: string) => violations.push({ rule, session: run.session, detail });
  if (!planCase.sessions[run.session]!.mixing)
    report("mixing", `${run.blend} is mixed in a session without mixing`);
  if (grams > most + tolerance || grams < least - tolerance) {
    report("bowls", `${run.blend}: ${grams} g in ${run.bowls} bowls, which take ${least} to ${most} g`);
  }
  return violations;
}

function repeatedRuns(runs: readonly Run[]): readonly Violation[] {
  const seen = new Set<string>();
  return runs.flatMap((run) => {
    const key = `${run.session}:${run.blend}`;
    const repeated = seen.has(key);
    seen.add(key);
    return repeated
      ? [{ rule: "bowls" as const, session: run.session, detail: `${run.blend} has two runs in one session` }]
      : [];
  });
}

/** A limit the drying pieces alone exceed allows the plan nothing more, but is no fault of the plan. */
function sessionViolations(planCase: PlanCase, loads: SessionLoads, session: number): readonly Violation[] {
  const violations: Violation[] = [];
  const compare = (rule: Rule, what: string, load: SessionLoads["trays"]) => {
    if (load.byPlan > Math.max(0, load.limit - load.byDrying) + tolerance) {
      const detail = `${what}: ${load.byPlan} by the plan and ${load.byDrying} already drying, limit ${load.limit}`;
      violations.push({ rule, session, detail });
    }
  };
  compare("mixers", "bowls", loads.bowls);
  compare("trays", "trays", loads.trays);
  compare("hands", "hand minutes", loads.handMinutes);
  planCase.shapes.forEach((shape, index) => {
    compare("molds", `molds of ${shape.id}`, loads.molds[index]!);
  });
  return violations;
}

function supplyViolations(planCase: PlanCase, plan: Plan, horizon: Horizon): readonly Violation[] {
  const ledger = new Ledger();
  for (const { product, units } of planCase.stock) ledger.add(`stock of ${product}`, units);
  planCase.drying.forEach((drying, index) => {
    if (horizon.ofDrying(drying).pack !== null) ledger.add(`drying entry ${index}`, drying.units);
  });
  for (const run of plan.runs) {
    for (const { product, units } of run.pieces) ledger.add(`${product} of session ${run.session}`, units);
  }
  for (const order of planCase.orders) {
    for (const { product, units } of order.lines) ledger.add(`${product} on order ${order.id}`, units);
  }
  for (const supply of plan.supplies) {
    ledger.take(sourceName(supply), supply.units);
    ledger.take(`${supply.product} on order ${supply.order}`, supply.units);
  }
  const overdrawn = ledger.overdrawn().map((detail) => ({ rule: "supply" as const, session: null, detail }));
  return [...overdrawn, ...lateForMarket(planCase, plan, horizon)];
}

function lateForMarket(planCase: PlanCase, plan: Plan, horizon: Horizon): readonly Violation[] {
  const orders = new Map(planCase.orders.map((order) => [order.id, order]));
  const shapeOf = shapesByProduct(planCase);
  return plan.supplies.flatMap((supply) => {
    const order = orders.get(supply.order)!;
    if (order.terms !== "market" || supply.from === "stock" || supply.units === 0) return [];
    const { pack } =
      supply.from === "drying"
        ? horizon.ofDrying(planCase.drying[supply.drying]!)
        : ((horizon.sessions[supply.session] &&
            horizon.ofForming(shapeOf(supply.product), supply.session)) ?? { pack: null });
    if (pack !== null && horizon.sessions[pack]!.day <= dayOf(order.shipBy)) return [];
    const detail = `market ${order.id} is given ${supply.product} that is not ready by its date`;
    return [{ rule: "supply" as const, session: null, detail }];
  });
}

function figureViolations(planCase: PlanCase, plan: Plan): readonly Violation[] {
  const right = costPlan(planCase, plan);
  const violations: Violation[] = [];
  const compare = (what: string, stated: unknown, is: unknown) => {
    const same =
      typeof stated === "number" && typeof is === "number"
        ? Math.abs(stated - is) <= tolerance * Math.max(1, Math.abs(is))
        : stated === is;
    if (!same) violations.push({ rule: "figures", session: null, detail: `${what} is ${is}, not ${stated}` });
  };
  compare("the cost", plan.cost, right.lateness);
  compare("the sum of hand minutes", plan.handMinutes, totalHandMinutes(right.handMinutes));
  compare("the number of orders answered", plan.orders.length, planCase.orders.length);
  const stated = new Map(plan.orders.map((outcome) => [outcome.id, outcome]));
  for (const { outcome } of right.orders) {
    compare(`the ready date of order ${outcome.id}`, stated.get(outcome.id)?.readyOn, outcome.readyOn);
    compare(
      `the lateness of order ${outcome.id} in days`,
      stated.get(outcome.id)?.daysLate,
      outcome.daysLate,
    );
    compare(`the units short on order ${outcome.id}`, stated.get(outcome.id)?.unitsShort, outcome.unitsShort);
  }
  if (plan.bound > right.lateness + tolerance) {
    const detail = `the bound, ${plan.bound}, is above the cost of this plan, ${right.lateness}`;
    violations.push({ rule: "figures", session: null, detail });
  }
  return violations;
}

/** Amounts by name, and which of them were overdrawn. */
class Ledger {
  readonly #left = new Map<string, number>();

  add(name: string, units: number): void {
    this.#left.set(name, (this.#left.get(name) ?? 0) + units);
  }

  take(name: string, units: number): void {
    this.add(name, -units);
  }

  overdrawn(): readonly string[] {
    return [...this.#left]
      .filter(([, left]) => left < 0)
      .map(([name, left]) => `${-left} units more are given than there are: ${name}`);
  }
}

function sourceName(supply: Supply): string {
  if (supply.from === "stock") return `stock of ${supply.product}`;
  return supply.from === "drying"
    ? `drying entry ${supply.drying}`
    : `${supply.product} of session ${supply.session}`;
}

function shapesByProduct(planCase: PlanCase): (product: string) => Shape {
  const shapes = new Map(planCase.shapes.map((shape) => [shape.id, shape]));
  const byProduct = new Map(planCase.products.map((product) => [product.id, shapes.get(product.shape)]));
  return (product) => byProduct.get(product)!;
}

function lineKey(order: string, product: string): string {
  return JSON.stringify([order, product]);
}

function isCount(value: number): boolean {
  return Number.isInteger(value) && value > 0;
}
