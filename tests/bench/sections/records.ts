import { chmod, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import postgres from "postgres";
import { type Connection, connect } from "../../../db/connect.ts";
import { startEmbedded } from "../../../db/embedded/startEmbedded.ts";
import { migrateDatabase } from "../../../db/migrate.ts";
import { traceLot, traceOrder, traceSupplyLot } from "../../../server/trace/traces.ts";
import { insertFiveYears, LOTS, ORDERS } from "../../trace/fiveYears.ts";
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
      `All questions of a trace page together, ${TIMES} times after a first one that is not counted; milliseconds of the wall clock, database and server on one machine. Drawing the page is not in it.`,
      "The last column holds the median against that of a lot of pieces in the same run.",
    ],
    measure: async () => {
      const { connection, close } = await openRecords();
      const measured = [];
      for (const [name, follow] of questions(connection)) measured.push({ name, ...(await timed(follow)) });
      await close();
      const first = measured[0]?.medianMs ?? 1;
      const rows = measured.map(({ name, orders, medianMs, worstMs }) => [
        ...[name, String(orders), medianMs.toFixed(1), worstMs.toFixed(1), (medianMs / first).toFixed(1)],
      ]);
      return { head: ["what is followed", "orders found", "median, ms", "worst, ms", "times a lot"], rows };
    },
  };
}

function questions({ db }: Connection) {
  return [
    ["a lot of pieces, both ways", async () => (await traceLot(db, LOTS / 2))?.orders.length ?? 0],
    ["an order, back to every lot", async () => ((await traceOrder(db, ORDERS / 2)) ? 1 : 0)],
    ["a bag of 40 runs", async () => (await traceSupplyLot(db, 100))?.orders.length ?? 0],
    ["a bag of 400 runs", async () => (await traceSupplyLot(db, 3))?.orders.length ?? 0],
  ] as const;
}

async function timed(follow: () => Promise<number>) {
  const orders = await follow();
  const milliseconds: number[] = [];
  for (let time = 0; time < TIMES; time += 1) {
    const begun = performance.now();
    await follow();
    milliseconds.push(performance.now() - begun);
  }
  return { orders, medianMs: median(milliseconds), worstMs: Math.max(...milliseconds) };
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
