import { groupBy } from "../../server/basics/groupBy.ts";
import type { OrderPackedWith, OrderWithLot, TracedLot } from "../../server/trace/queries.ts";

/**
 * Most rows that a page of a trace draws one by one. A bag that lasts a year is in thousands of orders: beyond this they
 * are added up by customer and by product, each of which leads to its own rows. The file of a trace is always whole.
 */
export const MOST_ROWS = 100;

/** What a customer has of some lots, all orders together. */
export interface CustomerSum extends Pick<OrderWithLot, "customerId" | "customer" | "contact" | "address"> {
  readonly orders: number;
  readonly lots: number;
  readonly packed: number;
  readonly shipped: number;
  readonly cameHome: number;
  /** As the database writes an instant; null: nothing has left. */
  readonly lastLeftAt: string | null;
}

/** The orders with some lots added up by customer, in their order. */
export function sumsByCustomer(rows: readonly OrderWithLot[]): readonly CustomerSum[] {
  return [...groupBy(rows, ({ customerId }) => customerId).values()].flatMap((its) => {
    const [first] = its;
    if (!first) return [];
    const { customerId, customer, contact, address } = first;
    return [
      {
        ...{ customerId, customer, contact, address },
        orders: distinct(its, ({ orderId }) => orderId),
        lots: distinct(its, ({ lotId }) => lotId),
        ...{ packed: sum(its, "packed"), shipped: sum(its, "shipped"), cameHome: sum(its, "cameHome") },
        lastLeftAt: latest(its),
      },
    ];
  });
}

/** What orders were packed with of a lot of packaging, by customer. */
export function packedWithByCustomer(rows: readonly OrderPackedWith[]) {
  return [...groupBy(rows, ({ customerId }) => customerId).values()].flatMap((its) => {
    const [first] = its;
    if (!first) return [];
    const { customerId, customer, contact, address } = first;
    return [
      {
        customerId,
        customer,
        contact,
        address,
        orders: its.length,
        amount: sum(its, "amount"),
        here: sum(its, "here"),
      },
    ];
  });
}

/** Where the pieces of some lots are, by product, in the order in which the products first come. */
export function sumsByProduct(lots: readonly TracedLot[]) {
  return [...groupBy(lots, ({ productId }) => productId).values()].flatMap((its) => {
    const [first] = its;
    if (!first) return [];
    const { productId, product } = first;
    return [
      {
        ...{ productId, product, lots: its.length },
        ...{ made: sum(its, "made"), here: sum(its, "here"), packed: sum(its, "packed") },
        ...{ shipped: sum(its, "shipped"), cameHome: sum(its, "cameHome"), lost: sum(its, "lost") },
        counted: sum(its, "counted"),
      },
    ];
  });
}

export type ProductSum = ReturnType<typeof sumsByProduct>[number];

function sum<Of extends string>(rows: readonly Readonly<Record<Of, number>>[], of: Of): number {
  return rows.reduce((total, row) => total + row[of], 0);
}

function distinct<Row>(rows: readonly Row[], of: (row: Row) => number): number {
  return new Set(rows.map(of)).size;
}

/** Compared as instants: the database may write two of them with two offsets from Greenwich. */
function latest(rows: readonly { readonly lastLeftAt: string | null }[]): string | null {
  const times = rows.flatMap(({ lastLeftAt }) => lastLeftAt ?? []);
  return times.reduce<string | null>(
    (last, at) => (last === null || new Date(at) > new Date(last) ? at : last),
    null,
  );
}
