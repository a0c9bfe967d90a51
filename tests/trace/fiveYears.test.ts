import { drizzle } from "drizzle-orm/postgres-js";
import postgres, { type Sql } from "postgres";
import { h } from "preact";
import { renderToString } from "preact-render-to-string";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { Database } from "../../db/connect.ts";
import { traceLot, traceOrder, traceSupplyLot } from "../../server/trace/traces.ts";
import { SupplyLotTracePage } from "../../views/trace/SupplyLotTracePage.tsx";
import { sumsByCustomer, sumsByProduct } from "../../views/trace/traceSums.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { insertFiveYears, LINES, LOTS, lotOfCartons, ORDERS } from "./fiveYears.ts";

const database = useDatabase();

/** Where every move of pieces and supplies stands; they grow for as long as a workshop works. */
const LEDGERS = ["moves", "supply_moves", "delivery_lines"];
/** What grows beside them. Of a bag that is in thousands of orders these are rightly read from end to end. */
const BESIDE = ["order_lines", "lots", "orders", "deliveries"];

interface Asked {
  readonly query: string;
  readonly params: readonly unknown[];
}

let client: Sql | undefined;
let listening: Database;
const asked: Asked[] = [];

beforeAll(async () => {
  await insertFiveYears(database);
  client = postgres(database.url, { max: 1, onnotice: () => {} });
  listening = drizzle(client, {
    casing: "snake_case",
    logger: { logQuery: (query, params) => asked.push({ query, params }) },
  });
}, 120_000);

afterAll(() => client?.end({ timeout: 5 }));

it("is five years of records", async () => {
  const [counts] = await database.sql`select (select count(*)::integer from lots) as lots,
    (select count(*)::integer from order_lines) as lines, (select count(*)::integer from moves) as moves,
    (select count(*)::integer from supply_moves) as supply_moves`;
  expect(counts).toMatchObject({ lots: LOTS, lines: LINES, moves: 150_000 });
  expect(counts?.supply_moves).toBeGreaterThan(140_000);
});

it.each([
  ["a lot of pieces", () => traceLot(listening, LOTS / 2), [...LEDGERS, ...BESIDE]],
  ["an order", () => traceOrder(listening, ORDERS / 2), [...LEDGERS, ...BESIDE]],
  ["a bag of the usual size", () => traceSupplyLot(listening, 100), LEDGERS],
  ["the bag that lasts longest", () => traceSupplyLot(listening, 3), LEDGERS],
  ["a lot of cartons", async () => traceSupplyLot(listening, await lotOfCartons(database.db)), LEDGERS],
])("follows %s by indices, and reads no ledger from end to end", async (_what, trace, tables) => {
  asked.length = 0;
  expect(await trace()).toBeDefined();
  expect(asked.length).toBeGreaterThan(1);
  for (const question of asked) {
    const scanned = await readFromEndToEnd(question);
    expect(
      scanned.filter((table) => tables.includes(table)),
      question.query,
    ).toEqual([]);
  }
});

it("finds of a bag what a plain join of everything finds", async () => {
  const trace = await traceSupplyLot(database.db, 3);
  const joined = await database.sql`
    select l.order_id, m.lot_id, -sum(m.units)::integer as packed
    from supply_moves s join lots on lots.run_id = s.run_id join moves m on m.lot_id = lots.id
      join order_lines l on l.id = m.order_line_id
    where s.lot_id = 3 group by l.order_id, m.lot_id`;
  const byKey = (rows: readonly (readonly [number, number, number])[]) =>
    rows.map((row) => row.join(" ")).toSorted();
  expect(trace?.orders.length).toBeGreaterThan(1000);
  expect(byKey(trace?.orders.map((row) => [row.orderId, row.lotId, row.packed + row.shipped]) ?? [])).toEqual(
    byKey(joined.map((row) => [row.order_id, row.lot_id, row.packed])),
  );
});

it("adds up by customer and by product to what every order and lot comes to, on a page that stays small", async () => {
  const trace = await traceSupplyLot(database.db, 3);
  if (!trace) throw new Error("The bag was not found");
  const total = <Of extends string>(rows: readonly Readonly<Record<Of, number>>[], of: Of) =>
    rows.reduce((sum, row) => sum + row[of], 0);
  const customers = sumsByCustomer(trace.orders);
  expect(customers.length).toBe(new Set(trace.orders.map(({ customerId }) => customerId)).size);
  for (const of of ["packed", "shipped", "cameHome"] as const)
    expect(total(customers, of)).toBe(total(trace.orders, of));
  const products = sumsByProduct(trace.pieces);
  for (const of of ["made", "here", "packed", "shipped", "cameHome", "lost", "counted"] as const)
    expect(total(products, of)).toBe(total(trace.pieces, of));
  expect(total(products, "lots")).toBe(trace.pieces.length);
  expect(total(customers, "shipped")).toBe(total(products, "shipped"));

  const page = (customerId: number | null, productId: number | null) => {
    const props = { trace, recalled: false, timeZone: "UTC", only: { customerId, productId } };
    return renderToString(h(SupplyLotTracePage, props));
  };
  // A row each for customers, products and batches: thousands of orders would be megabytes.
  expect(page(null, null).length).toBeLessThan(300_000);
  const [{ customerId, orders } = { customerId: 0, orders: 0 }] = customers;
  const [{ productId, lots } = { productId: 0, lots: 0 }] = products;
  const links = (html: string, to: string) =>
    new Set(html.match(new RegExp(`href="/trace/${to}/\\d+"`, "g")));
  expect(links(page(customerId, null), "orders").size).toBe(orders);
  expect(links(page(null, productId), "lots").size).toBe(lots);
});

/** The tables that the plan of a question reads row by row. */
async function readFromEndToEnd({ query, params }: Asked): Promise<readonly string[]> {
  const [row] = await database.sql.unsafe(`explain (format json) ${query}`, params as never[]);
  const steps = JSON.stringify(row?.["QUERY PLAN"]);
  return [...steps.matchAll(/"Node Type":"Seq Scan"[^{}]*?"Relation Name":"(\w+)"/g)].map(
    ([, table]) => table ?? "",
  );
}
