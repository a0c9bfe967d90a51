import type { Order, PlanCase, Session } from "../planning/case.ts";
import type { BuiltCase } from "./buildCase.ts";
import { orderedUnits } from "./spares.ts";

/** One way in which the workshop is no longer what a plan was made for. */
export type Change =
  | { readonly kind: "order-new"; readonly order: string }
  | { readonly kind: "order-gone"; readonly order: string }
  | { readonly kind: "order-changed"; readonly order: string }
  /** More pieces of a product are to be packed for an order than the plan knew of. */
  | {
      readonly kind: "more-ordered";
      readonly order: string;
      readonly product: string;
      readonly units: number;
    }
  /** More (or, below zero, fewer) pieces are there or on the way than the plan counted on. */
  | { readonly kind: "supply-changed"; readonly product: string; readonly units: number }
  | { readonly kind: "session-gone" | "session-new" | "session-changed"; readonly date: string }
  | { readonly kind: "shape-changed"; readonly shape: string }
  /** Other losses of a product are expected. */
  | { readonly kind: "losses-changed"; readonly product: string }
  | { readonly kind: "workshop-changed" };

/**
 * What has changed since a plan was made, as far as it matters to the plan; empty when it may still be accepted.
 *
 * Held against each other are the question the plan answered and the question as it would be put now, not the list of
 * everything that was done: most of a working day leaves a plan as good as it was. Packing takes the same pieces from
 * the shelf and from what is left to pack, so the two are compared together, for each product: pieces there or on the
 * way, less pieces to pack. Unmolding and setting out to rest move pieces along as planned; that they come an hour
 * earlier or later changes no session's work. Time passing takes the sessions that are over from both sides. What does
 * matter: orders that came, went or were changed, pieces lost beyond what was expected or found, work begun, another
 * calendar, other molds, other losses to expect.
 *
 * @param called the references of the plan's orders that were called off; the others that no longer stand in the
 *   question are packed.
 */
export function whatChanged(
  then: BuiltCase,
  today: BuiltCase,
  options: { readonly called: ReadonlySet<string>; readonly now: Date },
): readonly Change[] {
  const orders = orderChanges(then.planCase, today.planCase, options.called);
  return [
    ...orders.map(({ change }) => change),
    ...supplyChanges(then.planCase, today.planCase, orders),
    ...sessionChanges(then, today, options.now),
    ...workshopChanges(then.planCase, today.planCase),
  ];
}

/** A change of an order, and by how much it alone raises what is to be packed, by product. */
interface OrderChange {
  readonly change: Change;
  readonly more: ReadonlyMap<string, number>;
}

function orderChanges(then: PlanCase, today: PlanCase, called: ReadonlySet<string>): readonly OrderChange[] {
  const before = new Map(then.orders.map((order) => [order.id, order]));
  const after = new Map(today.orders.map((order) => [order.id, order]));
  const gone = then.orders.filter(({ id }) => called.has(id) && !after.has(id));
  return [
    ...gone.map(
      (order): OrderChange => ({
        change: { kind: "order-gone", order: order.id },
        more: new Map(order.lines.map((line) => [line.product, -orderedUnits(line)])),
      }),
    ),
    ...today.orders.flatMap((order) => {
      const known = before.get(order.id);
      return known === undefined ? [newOrder(order)] : changesOf(known, order);
    }),
  ];
}

function newOrder(order: Order): OrderChange {
  return {
    change: { kind: "order-new", order: order.id },
    more: new Map(order.lines.map((line) => [line.product, orderedUnits(line)])),
  };
}

function changesOf(known: Order, order: Order): readonly OrderChange[] {
  const moved = known.shipBy !== order.shipBy || known.terms !== order.terms || known.weight !== order.weight;
  const before = new Map(known.lines.map((line) => [line.product, orderedUnits(line)]));
  const raised = order.lines.flatMap((line) => {
    const more = orderedUnits(line) - (before.get(line.product) ?? 0);
    return more > 0 ? [{ product: line.product, more }] : [];
  });
  return [
    ...(moved
      ? [{ change: { kind: "order-changed" as const, order: order.id }, more: new Map<string, number>() }]
      : []),
    ...raised.map(({ product, more }) => ({
      change: { kind: "more-ordered" as const, order: order.id, product, units: more },
      more: new Map([[product, more]]),
    })),
  ];
}

/** What is there or on the way, less what is to be packed, apart from what the changed orders explain. */
function supplyChanges(then: PlanCase, today: PlanCase, orders: readonly OrderChange[]): readonly Change[] {
  const spare = new Map<string, number>();
  const add = (product: string, units: number) => spare.set(product, (spare.get(product) ?? 0) + units);
  for (const [side, sign] of [[today, 1] as const, [then, -1] as const]) {
    for (const { product, units } of side.stock) add(product, sign * units);
    for (const { product, units, expectedLosses = 0 } of side.drying)
      add(product, sign * (units - expectedLosses));
    for (const line of side.orders.flatMap(({ lines }) => lines))
      add(line.product, -sign * orderedUnits(line));
  }
  for (const { more } of orders) for (const [product, units] of more) add(product, units);
  return [...spare]
    .filter(([, units]) => units !== 0)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([product, units]) => ({ kind: "supply-changed", product, units }));
}

interface DatedSession {
  readonly session: Session;
  readonly startsAt: Date;
  readonly endsAt: Date;
}

/** Sessions not yet over, up to the end of the plan's own horizon. */
function sessionChanges(then: BuiltCase, today: BuiltCase, now: Date): readonly Change[] {
  const before = datedSessions(then).filter(({ endsAt }) => endsAt > now);
  const horizon = before.at(-1)?.endsAt ?? now;
  const after = datedSessions(today).filter(({ endsAt }) => endsAt <= horizon);
  const byEnd = (sessions: readonly DatedSession[]) =>
    new Map(sessions.map((dated) => [dated.endsAt.getTime(), dated]));
  const [old, fresh] = [byEnd(before), byEnd(after)];
  return [
    ...before.flatMap((dated): Change[] => {
      const same = fresh.get(dated.endsAt.getTime());
      const { date } = dated.session;
      // In its last minute a session is over for the question before it is over by the clock.
      if (same === undefined) return dated.startsAt > now ? [{ kind: "session-gone", date }] : [];
      return sameSession(dated, same, now) ? [] : [{ kind: "session-changed", date }];
    }),
    ...after.flatMap((dated): Change[] =>
      old.has(dated.endsAt.getTime()) ? [] : [{ kind: "session-new", date: dated.session.date }],
    ),
  ];
}

/** Of a session under way fewer minutes are left with every minute: that is not a change. */
function sameSession(one: DatedSession, other: DatedSession, now: Date): boolean {
  const alike =
    one.session.mixing === other.session.mixing && one.session.dryingFactor === other.session.dryingFactor;
  if (one.startsAt < now) return alike;
  return (
    alike &&
    one.startsAt.getTime() === other.startsAt.getTime() &&
    one.session.handMinutes === other.session.handMinutes
  );
}

function datedSessions({ planCase, sessionInstants }: BuiltCase): readonly DatedSession[] {
  return planCase.sessions.flatMap((session, index) => {
    const instants = sessionInstants[index];
    return instants === undefined ? [] : [{ session, ...instants }];
  });
}

function workshopChanges(then: PlanCase, today: PlanCase): readonly Change[] {
  const after = new Map(today.shapes.map((shape) => [shape.id, shape]));
  const shapes = then.shapes.flatMap((shape): Change[] => {
    const same = after.get(shape.id);
    return same === undefined || sameNumbers(shape, same) ? [] : [{ kind: "shape-changed", shape: shape.id }];
  });
  const numbers = (planCase: PlanCase) => {
    const { trays, mixers, bowlGrams, minBowlGrams, bowlMinutes, mixMinutes, cleanMinutes } = planCase;
    return { trays, mixers, bowlGrams, minBowlGrams, bowlMinutes, mixMinutes, cleanMinutes };
  };
  const losses = new Map(today.products.map(({ id, lossShare = 0 }) => [id, lossShare]));
  return [
    ...shapes,
    ...then.products.flatMap(({ id, lossShare = 0 }): Change[] =>
      (losses.get(id) ?? lossShare) === lossShare ? [] : [{ kind: "losses-changed", product: id }],
    ),
    ...(sameNumbers(numbers(then), numbers(today)) ? [] : [{ kind: "workshop-changed" as const }]),
  ];
}

function sameNumbers<Facts extends object>(one: Facts, other: Facts): boolean {
  return (Object.keys(one) as (keyof Facts)[]).every((key) => one[key] === other[key]);
}
