import { chmod, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import postgres from "postgres";
import { h } from "preact";
import { renderToString } from "preact-render-to-string";
import { type Connection, connect } from "../../../db/connect.ts";
import { startEmbedded } from "../../../db/embedded/startEmbedded.ts";
import { migrateDatabase } from "../../../db/migrate.ts";
import { traceLot, traceOrder, traceSupplyLot } from "../../../server/trace/traces.ts";
import { LotTracePage } from "../../../views/trace/LotTracePage.tsx";
import { OrderTracePage } from "../../../views/trace/OrderTracePage.tsx";
import { SupplyLotTracePage } from "../../../views/trace/SupplyLotTracePage.tsx";
import { insertFiveYears, LOTS, lotOfCartons, ORDERS } from "../../trace/fiveYears.ts";
import { median } from "../table.ts";
import type { Section } from "./section.ts";

/** How often each page's questions are put. */
const TIMES = 9;

/** What following a lot costs a workshop that has kept its records for five years. */
export function recordsSection(): Section {
  return {
    name: "records",
    title: "Five years of records",
    method: () => [
      "20 000 lots of 10 000 runs, 60 000 lines of 12 000 orders, 150 000 moves of pieces and as many of supplies, in the built-in Postgres with its own settings.",
      `All questions of a trace page and drawing it, ${TIMES} times after a first one that is not counted; milliseconds of the wall clock, database and server on one machine.`,
      "Processor: what the server's own process used of it in the median; the database's processes are not in it. The last column holds the median against that of a lot of pieces in the same run.",
    ],
    measure: async () => {
      const { connection, close } = await openRecords();
      const measured = [];
      for (const [name, follow] of questions(connection)) measured.push({ name, ...(await timed(follow)) });
      await close();
      const first = measured[0]?.medianMs ?? 1;
      const rows = measured.map(({ name, orders, pageKilobytes, medianMs, worstMs, processorMs }) => [
        ...[name, String(orders), String(pageKilobytes), medianMs.toFixed(1), worstMs.toFixed(1)],
        ...[processorMs.toFixed(1), (medianMs / first).toFixed(1)],
      ]);
      const head = ["what is followed", "orders and lots", "page, kB", "median, ms", "worst, ms"];
      return { head: [...head, "processor, ms", "times a lot"], rows };
    },
  };
}

interface Followed {
  /** Rows of orders and lots that were found. */
  readonly orders: number;
  readonly page: string;
}

const shown = { recalled: false, timeZone: "UTC", only: { customerId: null, productId: null } };

function questions({ db }: Connection) {
  const followLot = async (id: number): Promise<Followed> => {
    const trace = known(await traceLot(db, id));
    return { orders: trace.orders.length, page: renderToString(h(LotTracePage, { trace, ...shown })) };
  };
  const followOrder = async (id: number): Promise<Followed> => {
    const trace = known(await traceOrder(db, id));
    return { orders: 1, page: renderToString(h(OrderTracePage, { trace })) };
  };
  const followSupplyLot = async (id: number): Promise<Followed> => {
    const trace = known(await traceSupplyLot(db, id));
    const orders = trace.orders.length + trace.packedWith.length;
    return { orders, page: renderToString(h(SupplyLotTracePage, { trace, ...shown })) };
  };
  return [
    ["a lot of pieces, both ways", () => followLot(LOTS / 2)],
    ["an order, back to every lot", () => followOrder(ORDERS / 2)],
    ["a bag of 40 runs", () => followSupplyLot(100)],
    ["a bag of 400 runs", () => followSupplyLot(3)],
    ["cartons around 6,000 order lines", async () => followSupplyLot(await lotOfCartons(db))],
  ] as const;
}

function known<Found>(found: Found | undefined): Found {
  if (found === undefined) throw new Error("What is to be followed is not there");
  return found;
}

async function timed(follow: () => Promise<Followed>) {
  const { orders, page } = await follow();
  const milliseconds: number[] = [];
  const processor: number[] = [];
  for (let time = 0; time < TIMES; time += 1) {
    const begun = performance.now();
    const used = process.cpuUsage();
    await follow();
    milliseconds.push(performance.now() - begun);
    const { user, system } = process.cpuUsage(used);
    processor.push((user + system) / 1000);
  }
  return {
    ...{ orders, pageKilobytes: Math.round(page.length / 1000) },
    ...{ medianMs: median(milliseconds), worstMs: Math.max(...milliseconds), processorMs: median(processor) },
  };
}

async function openRecords() {
  const folder = await mkdtemp(path.join(tmpdir(), "halfmold-records-"));
  await chmod(folder, 0o711);
  const server = await startEmbedded({ folder, chosen: true, say: () => {}, lost: console.error });
  await migrateDatabase(server.url);
  const connection = connect(server.url, { connections: 2 });
  const sql = postgres(server.url, { max: 1, onnotice: () => {} });
  await insertFiveYears({ db: connection.db, sql, url: server.url });
  await sql.end({ timeout: 5 });
  return {
    connection,
    close: async () => {
      await connection.close();
      await server.stop();
      await rm(folder, { recursive: true });
    },
  };
}
