import type { Database, Transaction } from "../../db/connect.ts";
import { inTransaction } from "../../db/transaction.ts";
import type { Result } from "../../server/basics/result.ts";
import type { Actor } from "../../server/http/visitor.ts";
import { firstOwner, signedIn, type TestApplication } from "../build/application.ts";
import { insertContact, insertCustomer, insertPerson, insertWorkshop } from "../build/rows.ts";
import type { TestDatabase } from "../db/testDatabase.ts";

/** Monday noon, in the middle of the first test day. */
export const NOON = new Date("2027-03-01T12:00:00Z");

/** A person at the packing table who carries commands out, each in a transaction of its own. */
export interface Packer extends Actor {
  do<Input, Value, Refusal>(
    command: (transaction: Transaction, actor: Actor, input: Input) => Promise<Result<Value, Refusal>>,
    input: Input,
    at?: Date,
  ): Promise<Result<Value, Refusal>>;
}

export async function newPacker(database: TestDatabase, name: string): Promise<Packer> {
  const personId = await insertPerson(database.db, { name });
  return {
    personId,
    at: NOON,
    do: (command, input, at = NOON) =>
      inTransaction(database.db, (transaction) => command(transaction, { personId, at }, input)),
  };
}

/** Takes everything off the shelf and out of the books, so that every test starts on a bare table. */
export async function emptyWorkroom({ sql }: TestDatabase): Promise<void> {
  await sql`truncate customers, blends, shapes cascade`;
}

/** A workshop with an owner and a helper called Fig, both signed in. Once for each test file. */
export async function openWorkroom(application: TestApplication) {
  const owner = await firstOwner(application);
  await insertWorkshop(application.database.db);
  const account = { name: "Fig Underhill", email: "fig@halfmold.example", password: "black tea and oat" };
  await owner.post("/setup/people", account, { from: "/setup/people" });
  const fig = await signedIn(application, account);
  return { owner, fig };
}

/** Pieces of a lot that stand on the shelf. */
export async function onShelf(database: TestDatabase, lotId: number): Promise<number> {
  const [row] = await database.sql<
    { units: number }[]
  >`select units from lot_balances where lot_id = ${lotId}`;
  return row?.units ?? 0;
}

/** An order's state, and the times that go with it as month, day and clock in UTC. */
export async function orderNow(database: TestDatabase, orderId: number) {
  const [row] = await database.sql<
    { state: string; packed: Date | null; shipped: Date | null; delivered: Date | null }[]
  >`select state, packed_at as packed, shipped_at as shipped, delivered_at as delivered from orders where id = ${orderId}`;
  if (!row) throw new Error(`There is no order ${orderId}`);
  const clock = (time: Date | null) => time?.toISOString().slice(5, 16) ?? null;
  return {
    state: row.state,
    packed: clock(row.packed),
    shipped: clock(row.shipped),
    delivered: clock(row.delivered),
  };
}

/** The only line of an order, or the first. */
export function firstOf(ids: readonly number[]): number {
  const [first] = ids;
  if (first === undefined) throw new Error("An order in a test has at least one line");
  return first;
}

/** A shop of which a helper may know name and address, and none of the secrets. */
const lamplitOtter = { name: "The Lamplit Otter", address: "3 Wick Lane", notes: "pays late" };

export async function insertLamplitOtter(db: Database): Promise<number> {
  const customerId = await insertCustomer(db, lamplitOtter);
  await insertContact(db, {
    customerId,
    name: "Perpetua Quill",
    email: "quill@otter.example",
    phone: "555 0188",
  });
  return customerId;
}

export const otterSecrets = ["Perpetua", "quill@otter", "555 0188", "pays late"];
