import { sql as query } from "drizzle-orm";
import { beforeEach, describe, expect, it } from "vitest";
import { inTransaction } from "../../db/transaction.ts";
import { useDatabase } from "./testDatabase.ts";

const database = useDatabase();

beforeEach(async () => {
  await database.sql`drop table if exists pot`;
  await database.sql`create table pot (id int primary key, grams int not null)`;
  await database.sql`insert into pot values (1, 100), (2, 100)`;
});

describe("inTransaction", () => {
  it("returns what the work returned and keeps what it wrote", async () => {
    const answer = await inTransaction(database.db, async (transaction) => {
      await transaction.execute(query`update pot set grams = 90 where id = 1`);
      return "taken";
    });
    expect(answer).toBe("taken");
    expect(await grams()).toEqual([90, 100]);
  });

  it("keeps nothing when the work throws, and does not run it again", async () => {
    let runs = 0;
    const failing = inTransaction(database.db, async (transaction) => {
      runs += 1;
      await transaction.execute(query`update pot set grams = 0`);
      throw new Error("changed my mind");
    });
    await expect(failing).rejects.toThrow("changed my mind");
    expect(runs).toBe(1);
    expect(await grams()).toEqual([100, 100]);
  });

  it("runs the victim of a deadlock again, so that both transactions are done in the end", async () => {
    let runs = 0;
    const bothHoldOne = gate(2);
    const move = (from: number, to: number) =>
      inTransaction(database.db, async (transaction) => {
        runs += 1;
        await transaction.execute(query`update pot set grams = grams - 10 where id = ${from}`);
        await bothHoldOne();
        await transaction.execute(query`update pot set grams = grams + 10 where id = ${to}`);
      });
    await Promise.all([move(1, 2), move(2, 1)]);
    expect(runs).toBe(3);
    expect(await grams()).toEqual([100, 100]);
  });

  it("gives up after five attempts and throws the database's error", async () => {
    let runs = 0;
    const hopeless = inTransaction(database.db, async (transaction) => {
      runs += 1;
      await transaction.execute(query`do $$ begin raise sqlstate '40001'; end $$`);
    });
    await expect(hopeless).rejects.toThrow();
    expect(runs).toBe(5);
  });
});

async function grams(): Promise<number[]> {
  const rows = await database.sql<{ grams: number }[]>`select grams from pot order by id`;
  return rows.map((row) => row.grams);
}

/** Lets nobody on before `count` have arrived, and everybody after. */
function gate(count: number): () => Promise<void> {
  let arrived = 0;
  let open = () => {};
  const opened = new Promise<void>((resolve) => {
    open = resolve;
  });
  return () => {
    arrived += 1;
    if (arrived >= count) open();
    return opened;
  };
}
