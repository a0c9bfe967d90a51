import { beforeAll, describe, expect, it } from "vitest";
import { traceLot, traceOrder, traceSupplyLot } from "../../server/trace/traces.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { insertSupplies } from "./bookedSupplies.ts";

const database = useDatabase();

interface Tables {
  readonly supplyLots: readonly { readonly id: number }[];
  readonly supplyMoves: readonly {
    readonly lot_id: number | null;
    readonly run_id: number | null;
    readonly order_line_id: number | null;
    readonly supply_id: number;
    readonly kind: string;
    readonly amount: number;
  }[];
  readonly lots: readonly { readonly id: number; readonly run_id: number | null }[];
  readonly moves: readonly {
    readonly lot_id: number;
    readonly order_line_id: number | null;
    readonly kind: string;
    readonly units: number;
  }[];
  readonly lines: readonly { readonly id: number; readonly order_id: number }[];
  readonly sent: readonly {
    readonly lot_id: number;
    readonly order_line_id: number;
    readonly units: number;
  }[];
  readonly orders: readonly { readonly id: number }[];
}

let tables: Tables;

beforeAll(async () => {
  await insertSupplies(database);
  const { sql } = database;
  tables = {
    supplyLots: await sql`select id from supply_lots`,
    supplyMoves:
      await sql`select lot_id, run_id, order_line_id, supply_id, kind, amount::float from supply_moves`,
    lots: await sql`select id, run_id from lots`,
    moves: await sql`select lot_id, order_line_id, kind, units from moves`,
    lines: await sql`select id, order_id from order_lines`,
    sent: await sql`select lot_id, order_line_id, units from delivery_lines`,
    orders: await sql`select id from orders`,
  };
});

/** Sums by key over all rows of a table, those of nothing left out: the slow and obvious way. */
function summed<Row>(rows: readonly Row[], keyOf: (row: Row) => string | null, of: (row: Row) => number) {
  const sums = new Map<string, number>();
  for (const row of rows) {
    const key = keyOf(row);
    if (key !== null) sums.set(key, (sums.get(key) ?? 0) + of(row));
  }
  return Object.fromEntries([...sums].filter(([, sum]) => sum !== 0).sort());
}

const isUse = ({ kind }: { readonly kind: string }) => kind === "used" || kind === "unused";
const orderOf = (lineId: number | null) => tables.lines.find(({ id }) => id === lineId)?.order_id ?? null;
const runOf = (lotId: number) => tables.lots.find(({ id }) => id === lotId)?.run_id ?? null;
const found = (rows: readonly (readonly [key: string, sum: number])[]) =>
  Object.fromEntries([...rows].sort());

describe("a lot of a supply, followed forward", () => {
  it("leads to the batches, lots and orders that a join over everything finds, of every lot there is", async () => {
    expect(tables.supplyLots.length).toBeGreaterThan(8);
    let reached = 0;
    for (const { id } of tables.supplyLots) {
      const trace = await traceSupplyLot(database.db, id);
      if (!trace) throw new Error("The lot was not found");
      const runs = summed(
        tables.supplyMoves.filter((move) => move.lot_id === id && isUse(move)),
        (move) => (move.run_id === null ? null : String(move.run_id)),
        (move) => -move.amount,
      );
      expect(found(trace.runs.map((run) => [String(run.runId), run.amount]))).toEqual(runs);
      const lots = tables.lots.filter((lot) => lot.run_id !== null && String(lot.run_id) in runs);
      expect(trace.pieces.map((lot) => lot.id)).toEqual(
        lots.map((lot) => lot.id).sort((one, other) => one - other),
      );
      const lotIds = new Set(lots.map((lot) => lot.id));
      const packed = summed(
        tables.moves.filter((move) => lotIds.has(move.lot_id) && move.order_line_id !== null),
        (move) => `${orderOf(move.order_line_id)} ${move.lot_id}`,
        (move) => -move.units,
      );
      const shipped = summed(
        tables.sent.filter((line) => lotIds.has(line.lot_id)),
        (line) => `${orderOf(line.order_line_id)} ${line.lot_id}`,
        (line) => line.units,
      );
      const key = (row: { orderId: number; lotId: number }) => `${row.orderId} ${row.lotId}`;
      expect(found(trace.orders.map((row) => [key(row), row.packed + row.shipped]))).toEqual(packed);
      expect(
        found(trace.orders.filter((row) => row.shipped > 0).map((row) => [key(row), row.shipped])),
      ).toEqual(shipped);
      const around = summed(
        tables.supplyMoves.filter((move) => move.lot_id === id && isUse(move)),
        (move) => (move.order_line_id === null ? null : String(orderOf(move.order_line_id))),
        (move) => -move.amount,
      );
      expect(found(trace.packedWith.map((order) => [String(order.orderId), order.amount]))).toEqual(around);
      reached += trace.orders.length;
    }
    expect(reached).toBeGreaterThan(20);
  });

  it("accounts for all that came, and for every piece that was made of it", async () => {
    for (const { id } of tables.supplyLots) {
      const trace = await traceSupplyLot(database.db, id);
      if (!trace) throw new Error("The lot was not found");
      const { received, usedByRuns, usedByPacking, lost, counted, onHand } = trace.lot;
      expect(received + usedByRuns + usedByPacking + lost + counted).toBe(onHand);
      expect(trace.runs.reduce((sum, run) => sum + run.amount, usedByRuns)).toBe(0);
      expect(trace.packedWith.reduce((sum, order) => sum + order.amount, usedByPacking)).toBe(0);
      for (const lot of trace.pieces)
        expect(lot.made + lot.cameHome + lot.counted).toBe(lot.here + lot.packed + lot.shipped + lot.lost);
      const sum = (of: "packed" | "shipped" | "cameHome") => [
        trace.orders.reduce((total, row) => total + row[of], 0),
        trace.pieces.reduce((total, row) => total + row[of], 0),
      ];
      for (const of of ["packed", "shipped", "cameHome"] as const) expect(sum(of)[0]).toBe(sum(of)[1]);
    }
  });
});

describe("an order, followed back", () => {
  it("leads to every lot of a supply that a join over everything finds, those beyond the ledger too", async () => {
    let beyond = 0;
    for (const { id } of tables.orders) {
      const trace = await traceOrder(database.db, id);
      if (!trace) throw new Error("The order was not found");
      const pieces = summed(
        tables.moves.filter((move) => orderOf(move.order_line_id) === id),
        (move) => String(move.lot_id),
        (move) => -move.units,
      );
      expect(found(trace.order.pieces.map((part) => [String(part.lotId), part.units]))).toEqual(pieces);
      const runIds = new Set(Object.keys(pieces).map((lotId) => runOf(Number(lotId))));
      const supplies = summed(
        tables.supplyMoves.filter((move) => move.run_id !== null && runIds.has(move.run_id) && isUse(move)),
        (move) => `${move.run_id} ${move.supply_id} ${move.lot_id}`,
        (move) => -move.amount,
      );
      expect(trace.supplies.length).toBe(Object.keys(supplies).length);
      expect(trace.supplies.map((row) => row.amount).sort()).toEqual(Object.values(supplies).sort());
      expect(new Set(trace.supplies.map((row) => `${row.runId} ${row.supplyLotId}`))).toEqual(
        new Set(Object.keys(supplies).map((key) => key.replace(/ \d+ /, " "))),
      );
      beyond += trace.supplies.filter(({ supplyLotId }) => supplyLotId === null).length;
      // And forward again: each lot of a supply that was found names this order.
      for (const { supplyLotId } of trace.supplies.filter((row) => row.supplyLotId !== null)) {
        const forward = await traceSupplyLot(database.db, supplyLotId ?? 0);
        expect(forward?.orders.map(({ orderId }) => orderId)).toContain(id);
      }
    }
    expect(beyond).toBeGreaterThan(0);
  });
});

describe("a lot of pieces", () => {
  it("leads both ways, and nowhere where there is no such lot", async () => {
    for (const { id, run_id } of tables.lots) {
      const trace = await traceLot(database.db, id);
      expect(trace?.lot.id).toBe(id);
      if (run_id === null) expect(trace?.supplies).toEqual([]);
    }
    expect(await traceLot(database.db, 9999)).toBeUndefined();
    expect(await traceSupplyLot(database.db, 9999)).toBeUndefined();
    expect(await traceOrder(database.db, 9999)).toBeUndefined();
  });
});
