import type { Order, PlanCase, Session } from "../planning/case.ts";
import { withSpares } from "../plans/spares.ts";
import type { Change } from "../plans/whatChanged.ts";

/**
 * The question as it would be put had one thing not changed since the plan: by planning both, one sees whether it was this
 * change that endangers a promise. Null where taking it back could help nobody: more pieces, more sessions, an order
 * less.
 *
 * @param then the question that the followed plan answers.
 */
export function undoChange(today: PlanCase, then: PlanCase, change: Change): PlanCase | null {
  switch (change.kind) {
    case "order-new":
      return withOrders(today, (order) => (order.id === change.order ? null : order));
    case "order-changed":
      return withOrders(today, (order) => (order.id === change.order ? asBefore(order, then) : order));
    case "more-ordered":
      return withOrders(today, (order) => (order.id === change.order ? fewer(order, change) : order));
    case "supply-changed":
      if (change.units >= 0) return null;
      return { ...today, stock: [...today.stock, { product: change.product, units: -change.units }] };
    case "session-gone":
    case "session-changed":
      return { ...today, sessions: withSessionsOf(today, then, change.date) };
    case "shape-changed":
      return {
        ...today,
        shapes: today.shapes.map((shape) =>
          shape.id === change.shape ? (then.shapes.find(({ id }) => id === shape.id) ?? shape) : shape,
        ),
      };
    case "losses-changed": {
      const before = then.products.find(({ id }) => id === change.product);
      const products = today.products.map((product) =>
        product.id === change.product ? { ...product, lossShare: before?.lossShare ?? 0 } : product,
      );
      return withSpares({ ...today, products });
    }
    case "workshop-changed": {
      const { trays, mixers, bowlGrams, minBowlGrams, bowlMinutes, mixMinutes, cleanMinutes } = then;
      return { ...today, trays, mixers, bowlGrams, minBowlGrams, bowlMinutes, mixMinutes, cleanMinutes };
    }
    case "order-gone":
    case "session-new":
      return null;
  }
}

function withOrders(planCase: PlanCase, as: (order: Order) => Order | null): PlanCase | null {
  const orders = planCase.orders.map(as).filter((order) => order !== null);
  return orders.length === 0 ? null : withSpares({ ...planCase, orders });
}

/** Date, terms and weight; how much is still to be packed is another change. */
function asBefore(order: Order, then: PlanCase): Order {
  const before = then.orders.find(({ id }) => id === order.id);
  return before ? { ...order, shipBy: before.shipBy, terms: before.terms, weight: before.weight } : order;
}

function fewer(
  order: Order,
  { product, units }: { readonly product: string; readonly units: number },
): Order | null {
  const lines = order.lines
    .map((line) => (line.product === product ? { ...line, units: line.units - units } : line))
    .filter((line) => line.units > 0);
  return lines.length === 0 ? null : { ...order, lines };
}

/** The sessions of one date as the plan knew them, those that are over left out. */
function withSessionsOf(today: PlanCase, then: PlanCase, date: string): readonly Session[] {
  const first = today.sessions[0];
  const old = then.sessions.filter(
    (session) => session.date === date && first !== undefined && atOf(session) >= atOf(first),
  );
  return [...today.sessions.filter((session) => session.date !== date), ...old].sort((one, other) =>
    atOf(one) < atOf(other) ? -1 : 1,
  );
}

function atOf({ date, start }: Session): string {
  return `${date}T${start}`;
}
