import postgres, { type Sql } from "postgres";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type Connection, connect } from "../../db/connect.ts";
import { inTransaction } from "../../db/transaction.ts";
import { packPieces } from "../../server/packing/packPieces.ts";
import { unpackPieces } from "../../server/packing/unpackPieces.ts";
import { recordCount } from "../../server/shelf/recordCount.ts";
import { recordLoss } from "../../server/shelf/recordLoss.ts";
import { insertCustomer, insertOrder, insertPerson, insertProduct, insertReadyLot } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { NOON } from "./workroom.ts";

/*
 * Four people at once, each over connections of their own, 10,000 moves drawn by dice: most written as they are, so that
 * the ledger alone has to say no, every twentieth by the command that a page would send. Each keeps a book of what was
 * accepted; from these books everything is counted again at the end. Each looks at all the sums now and then, while the others go on.
 */

const CLIENTS = 4;
const MOVES_EACH = 2_500;
const LOOK_EVERY = 100;
const LOTS = 6;
const MADE = 60;
const LINES = 4;
const ORDERED = 50;
/** Of every lot, packed for every line and gone with one delivery before they begin. */
const LEFT_EACH = 2;

/** One accepted move, as whoever made it wrote it into the own book. */
interface Entry {
  readonly kind: "packed" | "unpacked" | "lost" | "counted" | "returned";
  readonly lot: number;
  readonly line: number | null;
  readonly delivery: number | null;
  readonly units: number;
}

interface Shop {
  readonly lots: readonly number[];
  readonly lines: readonly number[];
  readonly deliveries: readonly number[];
}

const database = useDatabase();
const clients: { readonly sql: Sql; readonly connection: Connection; readonly personId: number }[] = [];
let shop: Shop;

beforeAll(async () => {
  shop = await openShop();
  for (let client = 0; client < CLIENTS; client += 1)
    clients.push({
      sql: postgres(database.url, { max: 1, onnotice: () => {} }),
      connection: connect(database.url, { connections: 1 }),
      personId: await insertPerson(database.db, { name: `Packer ${"ABCD"[client]}` }),
    });
});

afterAll(async () => {
  for (const { sql, connection } of clients) {
    await sql.end({ timeout: 5 });
    await connection.close();
  }
});

it("adds up to the piece after 10,000 moves by four at once, and never goes below nothing or over a line", async () => {
  const books = await Promise.all(clients.map((_, client) => work(client)));
  const entries = books.flat();

  // The dice must not have been so bad that hardly anything was allowed.
  for (const kind of ["packed", "unpacked", "lost", "counted", "returned"] as const)
    expect(entries.filter((entry) => entry.kind === kind).length, kind).toBeGreaterThan(100);

  const { sql } = database;
  const shelf = await sql`select lot_id, units from lot_balances order by lot_id`;
  expect(Object.fromEntries(shelf.map(({ lot_id, units }) => [lot_id, units]))).toEqual(
    Object.fromEntries(
      shop.lots.map((lot) => [
        lot,
        MADE - LINES * LEFT_EACH + sum(entries.filter((entry) => entry.lot === lot)),
      ]),
    ),
  );
  const lines = await sql`select order_line_id, packed_units from line_progress order by order_line_id`;
  expect(lines.map(({ order_line_id, packed_units }) => [order_line_id, packed_units])).toEqual(
    shop.lines.map((line) => [line, LOTS * LEFT_EACH - sum(entries.filter((entry) => entry.line === line))]),
  );
  // The ledger has each accepted move once and nothing else: row by row, as a bag.
  const rows = await sql<
    Entry[]
  >`select kind, lot_id as lot, order_line_id as line, delivery_id as delivery, units
    from moves where person_id is not null`;
  expect(bagOf(rows)).toEqual(bagOf(entries));
  const [worst] = await sql`select
    (select min(units) from lot_balances) as least,
    (select max(packed_units) from line_progress) as most,
    (select max(home) from (select sum(units) as home from moves where delivery_id is not null
      group by delivery_id, lot_id) as came) as home,
    (select min(packed_of_lot) from (select -sum(units) as packed_of_lot from moves where order_line_id is not null
      group by order_line_id, lot_id) as held) as kept`;
  expect(worst?.least).toBeGreaterThanOrEqual(0);
  expect(worst?.most).toBeLessThanOrEqual(ORDERED);
  expect(Number(worst?.home)).toBeLessThanOrEqual(LEFT_EACH);
  // What has left was never unpacked.
  expect(Number(worst?.kept)).toBeGreaterThanOrEqual(LEFT_EACH);
});

async function work(client: number): Promise<readonly Entry[]> {
  const dice = diceFrom(20_270_301 + client);
  const book: Entry[] = [];
  for (let move = 0; move < MOVES_EACH; move += 1) {
    const entry = draw(dice);
    const accepted =
      dice(20) === 0 && entry.kind !== "returned"
        ? await byCommand(client, entry)
        : await asItIs(client, entry);
    if (accepted) book.push(accepted);
    if (move % LOOK_EVERY === 0) await expectNothingImpossible(at(clients, client));
  }
  return book;
}

function draw(dice: Dice): Entry {
  const lot = pick(shop.lots, dice);
  const line = pick(shop.lines, dice);
  const units = 1 + dice(4);
  const away = { lot, line: null, delivery: null };
  switch (dice(8)) {
    case 0:
    case 1:
    case 2:
      return { kind: "packed", lot, line, delivery: null, units: -units };
    case 3:
    case 4:
      return { kind: "unpacked", lot, line, delivery: null, units };
    case 5:
      return { kind: "lost", ...away, units: -1 };
    case 6:
      return { kind: "counted", ...away, units: dice(2) === 0 ? -units : units };
    default:
      return {
        kind: "returned",
        ...away,
        delivery: pick(shop.deliveries, dice),
        units: dice(2) === 0 ? -1 : 1,
      };
  }
}

/** Only the ledger's own guards stand in the way. */
async function asItIs(client: number, entry: Entry): Promise<Entry | null> {
  const { sql, personId } = at(clients, client);
  const { kind, lot, line, delivery, units } = entry;
  try {
    await sql`insert into moves (lot_id, kind, units, order_line_id, delivery_id, cause, at, person_id)
      values (${lot}, ${kind}, ${units}, ${line}, ${delivery}, ${kind === "lost" ? "cracked" : null}, ${NOON}, ${personId})`;
    return entry;
  } catch (error) {
    if (error instanceof postgres.PostgresError && error.constraint_name?.startsWith("moves_never"))
      return null;
    throw error;
  }
}

async function byCommand(client: number, entry: Entry): Promise<Entry | null> {
  const { connection, personId } = at(clients, client);
  const { kind, lot: lotId, line, units } = entry;
  const actor = { personId, at: NOON };
  let moved = units;
  const outcome = await inTransaction(connection.db, async (transaction) => {
    if (kind === "packed")
      return await packPieces(transaction, actor, {
        orderLineId: line ?? 0,
        takes: [{ lotId, units: -units }],
      });
    if (kind === "unpacked")
      return await unpackPieces(transaction, actor, { orderLineId: line ?? 0, lotId, units });
    if (kind === "lost")
      return await recordLoss(transaction, actor, { lotId, units: -units, cause: "cracked", note: "" });
    const [balance] = await transaction.execute<{ units: number }>(
      `select units from lot_balances where lot_id = ${lotId}`,
    );
    const expected = balance?.units ?? 0;
    const counted = Math.max(0, expected + units);
    const done = await recordCount(transaction, actor, { lotId, expected, counted, note: "" });
    moved = counted - expected;
    // A count that agrees moves nothing.
    return counted === expected ? { ok: false } : done;
  });
  return outcome.ok ? { ...entry, units: moved } : null;
}

/** Looks at all sums while the others go on working: a statement sees one moment. */
async function expectNothingImpossible({ sql }: { readonly sql: Sql }): Promise<void> {
  const [row] = await sql`select
    (select count(*)::integer from lot_balances where units < 0)
    + (select count(*)::integer from line_progress where packed_units > ordered_units or shipped_units > packed_units)
    as wrong`;
  expect(row?.wrong).toBe(0);
}

/** Six lots of one product and four orders for it, of each of which two of every lot have left already. */
async function openShop(): Promise<Shop> {
  const { db, sql } = database;
  const productId = await insertProduct(db);
  const customerId = await insertCustomer(db);
  const lots: number[] = [];
  for (let lot = 0; lot < LOTS; lot += 1)
    lots.push(await insertReadyLot(db, { productId, units: MADE, code: `AA${lot}` }));
  const lines: number[] = [];
  const deliveries: number[] = [];
  for (let order = 0; order < LINES; order += 1) {
    const { orderId, lineIds } = await insertOrder(db, {
      ...{ customerId, reference: `W-10${order}`, terms: "as-ready", state: "packing" },
      lines: [{ productId, units: ORDERED }],
    });
    const line = at(lineIds, 0);
    const [delivery] = await sql<{ id: number }[]>`insert into deliveries (order_id, how, state, shipped_at)
      values (${orderId}, 'parcel', 'shipped', ${NOON}) returning id`;
    for (const lot of lots) {
      await sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${lot}, 'packed', ${-LEFT_EACH}, ${line}, ${NOON})`;
      await sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
        values (${delivery?.id ?? 0}, ${line}, ${lot}, ${LEFT_EACH})`;
    }
    lines.push(line);
    deliveries.push(delivery?.id ?? 0);
  }
  return { lots, lines, deliveries };
}

type Dice = (sides: number) => number;

/** The same throws in every run (a linear congruential generator, Numerical Recipes, second edition, 7.1). */
function diceFrom(seed: number): Dice {
  let state = seed >>> 0;
  return (sides) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * sides);
  };
}

function bagOf(entries: readonly Entry[]): Readonly<Record<string, number>> {
  const bag = new Map<string, number>();
  for (const { kind, lot, line, delivery, units } of entries) {
    const key = `${kind} ${lot} ${line} ${delivery} ${units}`;
    bag.set(key, (bag.get(key) ?? 0) + 1);
  }
  return Object.fromEntries([...bag].sort());
}

function sum(entries: readonly Entry[]): number {
  return entries.reduce((total, { units }) => total + units, 0);
}

function pick<Item>(items: readonly Item[], dice: Dice): Item {
  return at(items, dice(items.length));
}

function at<Item>(items: readonly Item[], place: number): Item {
  const item = items[place];
  if (item === undefined) throw new Error(`There is nothing at place ${place}`);
  return item;
}
