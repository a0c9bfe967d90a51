import type { PlanCase, Product, Shape } from "./case.ts";
import { type Load, planLoads, type SessionLoads } from "./loads.ts";
import type { Plan } from "./plan.ts";
import type { Resource } from "./resource.ts";
import { horizonOf } from "./timing/horizon.ts";

/** What keeps pieces from being made earlier than they are. */
export interface HeldBy {
  readonly resource: Resource;
  /** Sessions in which there is no room for a single piece more, as indices. */
  readonly sessions: readonly number[];
  /** Orders served by what takes the room there. */
  readonly orders: readonly string[];
  /** True where pieces that were already drying take some of it too. */
  readonly alreadyDrying: boolean;
}

/**
 * The resource that is used up in most of the sessions in which a product would have to be formed to be ready before
 * `before` (a day number); null where one more piece would fit in all of them.
 */
export function heldBy(planCase: PlanCase, plan: Plan, product: Product, before: number): HeldBy | null {
  const horizon = horizonOf(planCase);
  const loads = planLoads(planCase, plan);
  const shapeIndex = planCase.shapes.findIndex((shape) => shape.id === product.shape);
  const shape = planCase.shapes[shapeIndex]!;
  const blocked = new Map<Resource["resource"], Set<number>>();
  const block = (resource: Resource["resource"], session: number) =>
    blocked.set(resource, (blocked.get(resource) ?? new Set()).add(session));

  planCase.sessions.forEach((session, formed) => {
    const { unmold, pack } = horizon.ofForming(shape, formed);
    if (!session.mixing || unmold === null || pack === null || horizon.sessions[pack]!.day >= before) return;
    const setup = setupOf(planCase, plan, product, shape, formed);
    if (isFull(loads[formed]!.bowls, setup.bowls)) block("mixers", formed);
    for (let at = formed; at < pack; at++) {
      if (at < unmold && isFull(loads[at]!.molds[shapeIndex]!, 1)) block("moldSets", at);
      if (isFull(loads[at]!.trays, setup.trays)) block("trays", at);
    }
    for (let at = formed; at <= pack; at++) {
      const minutes =
        (at === formed ? setup.minutes + shape.formMinutes : 0) +
        (at < unmold ? shape.turnMinutes : 0) +
        (at === unmold ? shape.unmoldMinutes : 0) +
        (at === pack ? shape.packMinutes : 0);
      if (minutes > 0 && isFull(loads[at]!.handMinutes, minutes)) block("handMinutes", at);
    }
  });

  let most: [Resource["resource"], Set<number>] | null = null;
  for (const entry of blocked) if (most === null || entry[1].size > most[1].size) most = entry;
  if (most === null) return null;
  const [kind, where] = most;
  const sessions = [...where].sort((a, b) => a - b);
  const resource: Resource =
    kind === "moldSets" ? { resource: kind, shape: product.shape } : { resource: kind };
  return { resource, sessions, ...usersOf(planCase, plan, loads, resource, shapeIndex, sessions) };
}

/** What one more piece would need besides its own work: a bowl or a tray where those there are full. */
function setupOf(planCase: PlanCase, plan: Plan, product: Product, shape: Shape, session: number) {
  const run = plan.runs.find((each) => each.session === session && each.blend === product.blend);
  if (run === undefined) return { bowls: 1, trays: 1, minutes: planCase.mixMinutes + planCase.cleanMinutes };
  const grams = run.pieces.reduce((sum, pieces) => {
    const formed = planCase.products.find((each) => each.id === pieces.product);
    const weight = planCase.shapes.find((each) => each.id === formed?.shape)?.grams ?? 0;
    return sum + weight * pieces.units;
  }, 0);
  const bowls = grams + shape.grams > run.bowls * planCase.bowlGrams ? 1 : 0;
  const lying = run.pieces.find((pieces) => pieces.product === product.id)?.units ?? 0;
  return { bowls, trays: lying % shape.unitsPerTray === 0 ? 1 : 0, minutes: bowls * planCase.mixMinutes };
}

function isFull(load: Load, more: number): boolean {
  return more > 0 && load.byPlan + more > Math.max(0, load.limit - load.byDrying) + 1e-6;
}

function usersOf(
  planCase: PlanCase,
  plan: Plan,
  loads: readonly SessionLoads[],
  resource: Resource,
  shapeIndex: number,
  sessions: readonly number[],
): Pick<HeldBy, "orders" | "alreadyDrying"> {
  const blendOf = new Map(planCase.products.map((product) => [product.id, product.blend]));
  const users = new Set<string>();
  let alreadyDrying = false;
  const useRun = (session: number, product: string | null, blend: string) => {
    for (const supply of plan.supplies) {
      if (supply.from !== "run" || supply.session !== session || supply.units === 0) continue;
      if (product === null ? blendOf.get(supply.product) === blend : supply.product === product) {
        users.add(supply.order);
      }
    }
  };
  for (const session of sessions) {
    if (resource.resource === "handMinutes" || resource.resource === "mixers") {
      for (const run of plan.runs) if (run.session === session) useRun(session, null, run.blend);
    }
    if (resource.resource === "mixers") continue;
    loads[session]!.lots.forEach((lots, index) => {
      if (resource.resource === "moldSets" && index !== shapeIndex) return;
      for (const lot of lots) {
        if (resource.resource === "moldSets" && lot.stage !== "in-mold") continue;
        if (lot.origin.from === "drying") alreadyDrying = true;
        else {
          const run = plan.runs[lot.origin.run]!;
          useRun(run.session, lot.product, run.blend);
        }
      }
    });
  }
  return { orders: planCase.orders.map((order) => order.id).filter((id) => users.has(id)), alreadyDrying };
}
