import type { PlanCase } from "../case.ts";
import { type Load, planLoads, type SessionLoads } from "../loads.ts";
import type { Plan } from "../plan.ts";
import { planCase as findPlan } from "../planCase.ts";
import type { Resource } from "../resource.ts";
import type { Stop } from "../stop.ts";

/** A limit, and the lateness cost of the best plan found with it. For hand minutes the limit is what is added. */
export interface Step {
  readonly limit: number;
  readonly cost: number;
}

export type ResourceReport = Resource & {
  /** For hand minutes what is added to every session: 0. */
  readonly limit: number;
  /** Shares of the limit over the sessions that have a limit above 0. */
  readonly meanLoad: number;
  readonly peakLoad: number;
  readonly oneMore: Step;
  /** Smallest limit that reaches the lowest cost more of this resource alone can reach; null where more lowers nothing. */
  readonly enough: Step | null;
};

export interface HoldUps {
  readonly cost: number;
  readonly resources: readonly ResourceReport[];
  /** Null only where the workshop has no resource at all. */
  readonly bottleneck: Resource | null;
}

export interface HoldUpOptions {
  readonly seed: number;
  /** A fresh stop for each of the re-plans; every re-plan gets the same effort. */
  readonly effort: () => Stop;
  /** The plan in question; re-plans start from it. Left out, one is made first. */
  readonly plan?: Plan;
}

/** Hand minutes come in steps of one hour in every session. */
const handStep = 60;

/**
 * What holds the workshop up: for each resource how full it is, and what more of it would save, found by planning again.
 * A saving is what is gained over planning again with nothing added, so that luck is not counted.
 */
export function whatHoldsUp(planCase: PlanCase, options: HoldUpOptions): HoldUps {
  const replan = (changed: PlanCase, start: Plan | undefined) =>
    findPlan(changed, {
      seed: options.seed,
      stop: options.effort(),
      ...(start === undefined ? {} : { start }),
    });
  const control = replan(planCase, options.plan);
  const loads = planLoads(planCase, control);
  const resources = resourcesOf(planCase).map((resource): ResourceReport => {
    const limit = limitOf(planCase, resource);
    const costs = new CostsByLimit(limit, control, (more, start) =>
      replan(withLimit(planCase, resource, more), start),
    );
    const step = resource.resource === "handMinutes" ? handStep : 1;
    const oneMore = { limit: limit + step, cost: costs.at(limit + step) };
    return {
      ...resource,
      limit,
      ...shares(loads.map((session) => loadOf(planCase, session, resource))),
      oneMore,
      enough: enoughOf(costs, limit, step, plenty(planCase, resource)),
    };
  });
  return { cost: control.cost, resources, bottleneck: bottleneckOf(control.cost, resources) };
}

/** Costs of plans under ever larger limits, each asked once; more of a resource never makes the answer worse. */
class CostsByLimit {
  readonly #plans = new Map<number, Plan>();
  readonly #replan: (limit: number, start: Plan) => Plan;
  readonly #first: number;

  constructor(limit: number, control: Plan, replan: (limit: number, start: Plan) => Plan) {
    this.#first = limit;
    this.#plans.set(limit, control);
    this.#replan = replan;
  }

  at(limit: number): number {
    return this.#planAt(limit).cost;
  }

  #planAt(limit: number): Plan {
    const known = this.#plans.get(limit);
    if (known !== undefined) return known;
    let start = this.#plans.get(this.#first)!;
    for (const [smaller, plan] of this.#plans) {
      if (smaller < limit && plan.cost < start.cost) start = plan;
    }
    const found = this.#replan(limit, start);
    const best = found.cost < start.cost ? found : start;
    this.#plans.set(limit, best);
    return best;
  }
}

/** Smallest limit that is as good as having plenty, by halving the distance. */
function enoughOf(costs: CostsByLimit, limit: number, step: number, most: number): Step | null {
  const here = costs.at(limit);
  const lowest = costs.at(limit + step * most);
  if (!(lowest < here))
    return costs.at(limit + step) < here ? { limit: limit + step, cost: costs.at(limit + step) } : null;
  let tooFew = 0;
  let enough = most;
  while (enough - tooFew > 1) {
    const middle = (tooFew + enough) >> 1;
    if (costs.at(limit + step * middle) <= lowest) enough = middle;
    else tooFew = middle;
  }
  return { limit: limit + step * enough, cost: costs.at(limit + step * enough) };
}

function bottleneckOf(cost: number, resources: readonly ResourceReport[]): Resource | null {
  const most = (value: (report: ResourceReport) => number): ResourceReport | undefined => {
    let best: ResourceReport | undefined;
    for (const report of resources) {
      if (best === undefined || value(report) > value(best)) best = report;
    }
    return best;
  };
  const byStep = most((report) => cost - report.oneMore.cost);
  if (byStep === undefined) return null;
  const byEnough = most((report) => cost - (report.enough?.cost ?? cost));
  const chosen =
    byStep.oneMore.cost < cost
      ? byStep
      : byEnough?.enough != null
        ? byEnough
        : most((report) => report.meanLoad);
  if (chosen === undefined) return null;
  return chosen.resource === "moldSets"
    ? { resource: "moldSets", shape: chosen.shape }
    : { resource: chosen.resource };
}

function resourcesOf(planCase: PlanCase): readonly Resource[] {
  return [
    ...planCase.shapes
      .filter((shape) => shape.driesIn !== "none")
      .map((shape): Resource => ({ resource: "moldSets", shape: shape.id })),
    { resource: "trays" },
    { resource: "handMinutes" },
    { resource: "mixers" },
  ];
}

/** The limit itself; for hand minutes, what is added to each session: nothing. */
function limitOf(planCase: PlanCase, resource: Resource): number {
  switch (resource.resource) {
    case "moldSets":
      return planCase.shapes.find((shape) => shape.id === resource.shape)!.moldSets;
    case "trays":
      return planCase.trays;
    case "mixers":
      return planCase.mixers;
    case "handMinutes":
      return 0;
  }
}

/** The same case with another limit of one resource. */
export function withLimit(planCase: PlanCase, resource: Resource, limit: number): PlanCase {
  switch (resource.resource) {
    case "moldSets":
      return {
        ...planCase,
        shapes: planCase.shapes.map((shape) =>
          shape.id === resource.shape ? { ...shape, moldSets: limit } : shape,
        ),
      };
    case "trays":
      return { ...planCase, trays: limit };
    case "mixers":
      return { ...planCase, mixers: limit };
    case "handMinutes":
      return {
        ...planCase,
        sessions: planCase.sessions.map((session) => ({
          ...session,
          handMinutes: session.handMinutes + limit,
        })),
      };
  }
}

/** Steps beyond which more can't help: room for every piece there is, at once. */
function plenty(planCase: PlanCase, resource: Resource): number {
  const pieces = planCase.orders.reduce(
    (sum, order) => sum + order.lines.reduce((units, line) => units + line.units, 0),
    0,
  );
  const all = Math.max(2, pieces * 2 + planCase.drying.reduce((sum, drying) => sum + drying.units, 0));
  if (resource.resource !== "handMinutes") return all;
  const mostPerPiece = Math.max(
    0,
    ...planCase.shapes.map(
      (shape) => shape.formMinutes + shape.turnMinutes + shape.unmoldMinutes + shape.packMinutes,
    ),
  );
  const minutes = all * (mostPerPiece + planCase.mixMinutes + planCase.cleanMinutes);
  return Math.max(2, Math.ceil(minutes / handStep));
}

function loadOf(planCase: PlanCase, loads: SessionLoads, resource: Resource): Load {
  switch (resource.resource) {
    case "moldSets":
      return loads.molds[planCase.shapes.findIndex((shape) => shape.id === resource.shape)]!;
    case "trays":
      return loads.trays;
    case "handMinutes":
      return loads.handMinutes;
    case "mixers":
      return loads.bowls;
  }
}

function shares(loads: readonly Load[]): { readonly meanLoad: number; readonly peakLoad: number } {
  const limited = loads.filter((load) => load.limit > 0 && Number.isFinite(load.limit));
  const each = limited.map((load) => (load.byDrying + load.byPlan) / load.limit);
  return {
    meanLoad: each.length === 0 ? 0 : each.reduce((sum, share) => sum + share, 0) / each.length,
    peakLoad: each.reduce((peak, share) => Math.max(peak, share), 0),
  };
}
