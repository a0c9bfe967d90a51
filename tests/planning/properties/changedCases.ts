import type { JsonCase } from "../independentChecker.ts";

/** The same case with every id replaced, so that their alphabetical order is another one. */
export function withOtherIds(json: JsonCase): JsonCase {
  // Backwards, so that a prefix that orders them does not survive.
  const other = (id: string) => `${[...id].reverse().join("")}'`;
  return {
    ...json,
    shapes: json.shapes.map((shape) => ({ ...shape, id: other(shape.id) })),
    blends: json.blends.map((blend) => ({ ...blend, id: other(blend.id) })),
    products: json.products.map(({ id, blend, shape }) => ({
      id: other(id),
      blend: other(blend),
      shape: other(shape),
    })),
    stock: (json.stock ?? []).map((stock) => ({ ...stock, product: other(stock.product) })),
    drying: (json.drying ?? []).map((drying) => ({ ...drying, product: other(drying.product) })),
    orders: json.orders.map((order) => ({
      ...order,
      id: other(order.id),
      lines: order.lines.map((line) => ({ ...line, product: other(line.product) })),
    })),
  };
}

/** The same case with every list whose order means nothing turned by so many places. */
export function reordered(json: JsonCase, by: number): JsonCase {
  const turned = <Item>(items: readonly Item[]): Item[] => {
    const at = items.length === 0 ? 0 : by % items.length;
    return [...items.slice(at), ...items.slice(0, at)].reverse();
  };
  return {
    ...json,
    shapes: turned(json.shapes),
    blends: turned(json.blends),
    products: turned(json.products),
    stock: turned(json.stock ?? []),
    drying: turned(json.drying ?? []),
    orders: turned(json.orders).map((order) => ({ ...order, lines: turned(order.lines) })),
  };
}

/** The same case so many weeks later. */
export function weeksLater(json: JsonCase, weeks: number): JsonCase {
  const later = (moment: string) => {
    const day = new Date(Date.parse(moment.slice(0, 10)) + weeks * 7 * 86_400_000);
    return day.toISOString().slice(0, 10) + moment.slice(10);
  };
  return {
    ...json,
    sessions: json.sessions.map((session) => ({ ...session, date: later(session.date) })),
    drying: (json.drying ?? []).map((drying) => ({
      ...drying,
      unmoldAt: drying.unmoldAt === null ? null : later(drying.unmoldAt),
      packAt: later(drying.packAt),
    })),
    orders: json.orders.map((order) => ({ ...order, shipBy: later(order.shipBy) })),
  };
}

/** One more of each resource, and an hour more in each session: one case each. */
export function withMore(json: JsonCase): readonly { readonly more: string; readonly json: JsonCase }[] {
  return [
    ...json.shapes.map(({ id }) => ({
      more: `a mold set of ${id}`,
      json: {
        ...json,
        shapes: json.shapes.map((shape) =>
          shape.id === id ? { ...shape, moldSets: shape.moldSets + 1 } : shape,
        ),
      },
    })),
    { more: "a tray", json: { ...json, trays: json.trays + 1 } },
    { more: "a mixer", json: { ...json, mixers: json.mixers + 1 } },
    {
      more: "an hour",
      json: {
        ...json,
        sessions: json.sessions.map((session) => ({ ...session, handMinutes: session.handMinutes + 60 })),
      },
    },
    ...(json.products[0] === undefined
      ? []
      : [{ more: "a piece on the shelf", json: withOneMoreInStock(json, json.products[0].id) }]),
  ];
}

export function withoutOrder(json: JsonCase, at: number): JsonCase {
  return { ...json, orders: json.orders.filter((_, index) => index !== at) };
}

function withOneMoreInStock(json: JsonCase, product: string): JsonCase {
  const stock = json.stock ?? [];
  const there = stock.some((each) => each.product === product);
  return {
    ...json,
    stock: there
      ? stock.map((each) => (each.product === product ? { ...each, units: each.units + 1 } : each))
      : [...stock, { product, units: 1 }],
  };
}
