import type { Transaction } from "../../db/connect.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { deliveryLines } from "../../db/schema/deliveryLines.ts";
import { moves } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { inTransaction } from "../../db/transaction.ts";
import type { Result } from "../../server/basics/result.ts";
import type { Actor } from "../../server/http/visitor.ts";
import { insertCustomer, insertProduct, insertReadyLot } from "../build/rows.ts";
import type { TestDatabase } from "../db/testDatabase.ts";

/*
 * Orders with fixed prices and what has left of them, written straight into the tables, so that what is billed can be
 * looked at by itself.
 */

export const NOON = new Date("2027-03-01T12:00:00Z");

export interface Range {
  readonly customerId: number;
  /** Two products, each with more on the shelf than any test packs. */
  readonly products: readonly [number, number];
  readonly lots: ReadonlyMap<number, number>;
}

/** A customer and two products, after everything that was there was taken away. */
export async function emptyCountingRoom(
  { db, sql }: TestDatabase,
  customer: Parameters<typeof insertCustomer>[1] = {},
): Promise<Range> {
  await sql`truncate customers, blends, shapes, invoice_years, letterhead cascade`;
  const cedar = await insertProduct(db, { code: "cedar/ball-60", name: "Cedar ball" });
  const oat = await insertProduct(db, { code: "oat/puck-40", name: "Oat puck" });
  return {
    customerId: await insertCustomer(db, {
      address: "3 Wick Lane\nLower Mothbury",
      netDays: 30,
      ...customer,
    }),
    products: [cedar, oat],
    lots: new Map([
      [cedar, await insertReadyLot(db, { productId: cedar, units: 90_000, code: "K7Q" })],
      [oat, await insertReadyLot(db, { productId: oat, units: 90_000, code: "D4R" })],
    ]),
  };
}

type Priced = Partial<typeof orders.$inferInsert> & {
  readonly lines: readonly {
    readonly units: number;
    readonly unitPriceMinor: number;
    readonly discountBasisPoints?: number;
    readonly taxPpm?: number;
  }[];
};

/** A confirmed order of the range's products, one a line, with its prices fixed: in EUR, without tax in them, by line. */
export async function insertPricedOrder({ db }: TestDatabase, range: Range, given: Priced) {
  const { lines, ...order } = given;
  const [row] = await db
    .insert(orders)
    .values({
      ...{ reference: "W-104", terms: "as-ready", shipBy: "2027-03-05", weight: 1, state: "confirmed" },
      ...{ createdAt: NOON, confirmedAt: NOON, pricedAt: NOON, customerId: range.customerId },
      ...{ currency: "EUR", pricesIncludeTax: false, rounding: "line", shippingTaxPpm: 0 },
      ...order,
    })
    .returning({ id: orders.id });
  if (!row) throw new Error("The order's row did not come back");
  const rows = await db
    .insert(orderLines)
    .values(
      lines.map((line, place) => ({
        ...{ orderId: row.id, productId: range.products[place] ?? 0, taxPpm: 0, ...line },
      })),
    )
    .returning({ id: orderLines.id });
  return { orderId: row.id, lineIds: rows.map(({ id }) => id) };
}

/** Lets so many pieces of each line leave. */
export async function letLeave(
  { db }: TestDatabase,
  range: Range,
  order: { readonly orderId: number; readonly lineIds: readonly number[] },
  units: readonly number[],
  shippedAt = NOON,
): Promise<void> {
  const { orderId, lineIds } = order;
  const [delivery] = await db
    .insert(deliveries)
    .values({ orderId, how: "parcel", state: "shipped", shippedAt })
    .returning({ id: deliveries.id });
  if (!delivery) throw new Error("The delivery's row did not come back");
  for (const [place, orderLineId] of lineIds.entries()) {
    const count = units[place] ?? 0;
    const lotId = range.lots.get(range.products[place] ?? 0) ?? 0;
    if (count === 0) continue;
    await db.insert(moves).values({ lotId, kind: "packed", units: -count, orderLineId, at: shippedAt });
    await db.insert(deliveryLines).values({ deliveryId: delivery.id, orderLineId, lotId, units: count });
  }
}

/** Carries a command out in a transaction of its own. */
export function carriesOut({ db }: TestDatabase, personId: number) {
  return <Input, Value, Refusal>(
    command: (transaction: Transaction, actor: Actor, input: Input) => Promise<Result<Value, Refusal>>,
    input: Input,
    at = NOON,
  ) => inTransaction(db, (transaction) => command(transaction, { personId, at }, input));
}

/** What a command gave that must not be refused. */
export function given<Value>(result: Result<Value, unknown>): Value {
  if (!result.ok) throw new Error(`Refused: ${JSON.stringify(result.refusal)}`);
  return result.value;
}
