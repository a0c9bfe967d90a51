import type { PlanCase, Product, Shape } from "./case.ts";
import { type Load, planLoads } from "./loads.ts";
import type { Plan } from "./plan.ts";
import type { Resource } from "./resource.ts";
import { horizonOf, type Milestones } from "./timing/horizon.ts";

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
  return { resource, sessions, ...usersOf(planCase, plan, resource, sessions) };
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

/** Orders served by what takes some of a resource in any of these sessions, and whether pieces drying from before do too. */
function usersOf(
  planCase: PlanCase,
  plan: Plan,
  resource: Resource,
  sessions: readonly number[],
): Pick<HeldBy, "orders" | "alreadyDrying"> {
  const horizon = horizonOf(planCase);
  const shapes = new Map(planCase.shapes.map((shape) => [shape.id, shape]));
  const shapeOf = new Map(planCase.products.map(({ id, shape }) => [id, shapes.get(shape)!]));
  const takesSome = (stay: Stay) => sessions.some((session) => takes(resource, stay, session));
  const users = new Set<string>();
  for (const supply of plan.supplies) {
    if (supply.from !== "run" || supply.units === 0) continue;
    const shape = shapeOf.get(supply.product)!;
    const milestones = horizon.ofForming(shape, supply.session);
    if (takesSome({ shape, formed: supply.session, ...milestones })) users.add(supply.order);
  }
  const alreadyDrying = planCase.drying.some((drying) => {
    if (resource.resource === "trays" && drying.trays === 0) return false;
    const { unmold, pack } = horizon.ofDrying(drying);
    const shape = shapeOf.get(drying.product)!;
    return takesSome({ shape, formed: null, unmold: drying.unmoldAt === null ? outBefore : unmold, pack });
  });
  return { orders: planCase.orders.map(({ id }) => id).filter((id) => users.has(id)), alreadyDrying };
}

/** Stands for an unmolding before the first session, which no session pays. */
const outBefore = -1;

/** Pieces of a shape from forming to packing; `formed` is null where that was before the first session. */
interface Stay extends Milestones {
  readonly shape: Shape;
  readonly formed: number | null;
}

/** Whether pieces use some of a resource in a session, by the rules of the limits. */
function takes(resource: Resource, { shape, formed, unmold, pack }: Stay, session: number): boolean {
  const isThere = session >= (formed ?? 0) && (pack === null || session < pack);
  const isInMold = isThere && (unmold === null || session < unmold);
  switch (resource.resource) {
    case "mixers":
      return session === formed;
    case "moldSets":
      return isInMold && shape.id === resource.shape;
    case "trays":
      return isThere;
    case "handMinutes":
      return (
        session === formed ||
        (isInMold && shape.turnMinutes > 0) ||
        (session === unmold && shape.unmoldMinutes > 0) ||
        (session === pack && shape.packMinutes > 0)
      );
  }
}
