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
  const replan = (changed: PlanCase, start: Plan | undefined, goal: number) => {
    const effort = options.effort();
    let isReached = false;
    return findPlan(changed, {
      seed: options.seed,
      prove: false,
      stop: { progress: (iterations) => (isReached ? 1 : effort.progress(iterations)) },
      onBetter: ({ cost, bound }) => {
        isReached = cost <= Math.max(goal, bound) + 1e-6;
      },
      ...(start === undefined ? {} : { start }),
    });
  };
  const control = replan(planCase, options.plan, 0);
  const loads = planLoads(planCase, control);
  const resources = resourcesOf(planCase).map((resource): ResourceReport => {
    const costs = new CostsBySteps(control, (steps, start, goal) =>
      replan(withMore(planCase, resource, steps), start, goal),
    );
    const limit = limitOf(planCase, resource);
    const step = stepOf(resource);
    const enough = enoughSteps(planCase, resource, costs);
    const oneMore = { limit: limit + step, cost: enough === null ? control.cost : costs.at(1).cost };
    return {
      ...resource,
      limit,
      ...shares(loads.map((session) => loadOf(planCase, session, resource))),
      oneMore,
      enough: enough === null ? null : { limit: limit + step * enough, cost: costs.at(enough).cost },
    };
  });
  return { cost: control.cost, resources, bottleneck: bottleneckOf(control.cost, resources) };
}

/** Plans again with so many steps more, from a plan; a cost down to the goal is good enough. */
type Replan = (steps: number, start: Plan, goal: number) => Plan;

/** Plans with so many steps more of a resource, each made once; more of it never makes the answer worse. */
class CostsBySteps {
  readonly #plans = new Map<number, Plan>();
  readonly #replan: Replan;

  constructor(control: Plan, replan: Replan) {
    this.#plans.set(0, control);
    this.#replan = replan;
  }

  at(steps: number): Plan {
    const known = this.#plans.get(steps);
    if (known !== undefined) return known;
    const start = this.#bestBelow(steps);
    const goal = this.#lowest();
    const found = start.cost <= goal ? start : this.#replan(steps, start, goal);
    this.learn(steps, found.cost < start.cost ? found : start);
    return this.#plans.get(steps) ?? start;
  }

  /** Keeps a plan known to be allowed with so many steps, if it is the best such. */
  learn(steps: number, plan: Plan): void {
    const best = this.#bestBelow(steps);
    const known = this.#plans.get(steps);
    const better = plan.cost < best.cost ? plan : best;
    if (known === undefined || better.cost < known.cost) this.#plans.set(steps, better);
  }

  /** No number of steps is known to reach less; the first to be asked for, which is plenty, may try for nothing. */
  #lowest(): number {
    return this.#plans.size === 1 ? 0 : Math.min(...[...this.#plans.values()].map(({ cost }) => cost));
  }

  #bestBelow(steps: number): Plan {
    let best = this.#plans.get(0)!;
    for (const [fewer, plan] of this.#plans) if (fewer < steps && plan.cost < best.cost) best = plan;
    return best;
  }
}

/**
 * Fewest steps that are as good as having plenty, by halving the distance; null where plenty lowers nothing. What the
 * plan with plenty uses at its peak is enough for that plan, so the halving starts from there.
 */
function enoughSteps(planCase: PlanCase, resource: Resource, costs: CostsBySteps): number | null {
  const control = costs.at(0);
  if (control.cost === 0) return null;
  const most = plenty(planCase, resource);
  const best = costs.at(most);
  if (!(best.cost < control.cost)) return null;
  let tooFew = 0;
  let enough = Math.min(most, stepsUsed(planCase, resource, most, best));
  costs.learn(enough, best);
  while (enough - tooFew > 1) {
    const middle = tooFew === 0 && enough > 4 ? 1 : (tooFew + enough) >> 1;
    if (costs.at(middle).cost <= costs.at(enough).cost) enough = middle;
    else tooFew = middle;
  }
  return enough;
}

/** Steps beyond today's limit that a plan made with plenty really needs. */
function stepsUsed(planCase: PlanCase, resource: Resource, most: number, plan: Plan): number {
  const generous = withMore(planCase, resource, most);
  const today = planLoads(planCase, { runs: [] });
  const used = planLoads(generous, plan).map((session, index) => ({
    load: loadOf(generous, session, resource),
    limit: loadOf(planCase, today[index]!, resource).limit,
    perMixer: loadOf(generous, session, resource).limit / Math.max(1, limitOf(generous, resource)),
  }));
  const steps = used.map(({ load, limit, perMixer }) => {
    const need = load.byPlan === 0 ? 0 : load.byPlan + load.byDrying;
    if (resource.resource === "handMinutes") return Math.ceil((need - limit) / handStep - 1e-9);
    if (resource.resource === "mixers") return need === 0 ? 0 : Math.ceil(need / perMixer) - planCase.mixers;
    if (resource.resource !== "moldSets") return need - planCase.trays;
    const shape = planCase.shapes.find((each) => each.id === resource.shape)!;
    return (shape.driesIn === "half" ? Math.ceil((need + 1) / 2) : need) - shape.moldSets;
  });
  return Math.max(1, ...steps);
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

function stepOf(resource: Resource): number {
  return resource.resource === "handMinutes" ? handStep : 1;
}

/** The same case with some steps more of one resource. */
function withMore(planCase: PlanCase, resource: Resource, steps: number): PlanCase {
  switch (resource.resource) {
    case "moldSets":
      return {
        ...planCase,
        shapes: planCase.shapes.map((shape) =>
          shape.id === resource.shape ? { ...shape, moldSets: shape.moldSets + steps } : shape,
        ),
      };
    case "trays":
      return { ...planCase, trays: planCase.trays + steps };
    case "mixers":
      return { ...planCase, mixers: planCase.mixers + steps };
    case "handMinutes":
      return {
        ...planCase,
        sessions: planCase.sessions.map((session) => ({
          ...session,
          handMinutes: session.handMinutes + steps * handStep,
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
