import { randomInt } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { runs } from "../../db/schema/plans.ts";
import { inTransaction } from "../../db/transaction.ts";
import { countSupply } from "../../server/supplies/countSupply.ts";
import { giveBack } from "../../server/supplies/giveBack.ts";
import { loseSupply } from "../../server/supplies/loseSupply.ts";
import { receiveSupply } from "../../server/supplies/receiveSupply.ts";
import { useUp } from "../../server/supplies/useUp.ts";
import { insertBlend, insertPerson, insertPlan, insertWorkshop } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { emptyStoreroom, insertLot, insertSupply } from "./storeroom.ts";

const database = useDatabase();
const AT = new Date("2027-03-01T12:00:00Z");
const CLIENTS = 4;
const STEPS = 400;

let personId = 0;
beforeAll(async () => {
  await insertWorkshop(database.db);
  personId = await insertPerson(database.db, { name: "Fig" });
});

async function newRuns(count: number): Promise<readonly number[]> {
  const planId = await insertPlan(database.db, { personId });
  const blendId = await insertBlend(database.db);
  const rows = Array.from({ length: count }, (_, minute) => ({
    ...{ planId, blendId, sessionDate: "2027-03-01", bowls: 1, dryingFactor: 1 },
    ...{ sessionStartsAt: new Date(Date.UTC(2027, 2, 1, 9, minute)), sessionEndsAt: AT },
    ...{ state: "mixing" as const, startedAt: AT },
  }));
  const inserted = await database.db.insert(runs).values(rows).returning({ id: runs.id });
  return inserted.map(({ id }) => id);
}

/*
 * Four people receive, use, give back, count and lose the same supplies at once, some hundred times each, on a real
 * database. Whatever came between whom: no sum was ever impossible, and the ledger says exactly what each of them was told.
 */
describe("the ledger of what is bought", () => {
  it("reconciles after four people at once, and no sum in it was ever impossible", {
    timeout: 240_000,
  }, async () => {
    await emptyStoreroom(database);
    const supplies = [
      await insertSupply(database.db, { name: "Soda" }),
      await insertSupply(database.db, { name: "Acid", kind: "acid" }),
      await insertSupply(database.db, { name: "Cup", kind: "cup" }),
    ];
    const weighed = await newRuns(12);
    const told = new Map<number, { received: number; lost: number }>(
      supplies.map((id) => [id, { received: 0, lost: 0 }]),
    );
    const client = async () => {
      for (let step = 0; step < STEPS; step += 1) await oneStep(supplies, weighed, told);
    };
    await Promise.all(Array.from({ length: CLIENTS }, client));

    const { sql } = database;
    const [moves] = await sql`select count(*)::integer as count from supply_moves`;
    expect(moves?.count).toBeGreaterThan(1500);
    for (const supplyId of supplies) {
      const [sums] = await sql`select
        sum(amount) filter (where kind = 'received')::float8 as received,
        -sum(amount) filter (where kind = 'lost')::float8 as lost
        from supply_moves where supply_id = ${supplyId}`;
      expect({ received: sums?.received ?? 0, lost: sums?.lost ?? 0 }).toEqual(told.get(supplyId));
    }
    // Every sum after every move, in the order the moves were written in: as a bookkeeper would go through it.
    const impossible = await sql`select * from (
      select id, lot_id, kind, run_id,
        sum(amount) over (partition by lot_id order by id) as of_lot,
        sum(amount) filter (where lot_id is null) over (partition by supply_id order by id) as beyond,
        sum(amount) filter (where kind in ('used', 'unused'))
          over (partition by supply_id, lot_id, run_id order by id) as of_use
      from supply_moves) walked
      where (lot_id is not null and of_lot < 0) or beyond > 0 or (run_id is not null and of_use > 0)`;
    expect(impossible).toEqual([]);
    const [off] = await sql`select count(*)::integer as lots from supply_lot_balances b
      where amount <> (select coalesce(sum(amount), 0) from supply_moves m where m.lot_id = b.lot_id)`;
    expect(off?.lots).toBe(0);
  });

  it("refuses, whoever writes: a lot below nothing, more given back than taken, a row that is changed", async () => {
    const { sql, db } = database;
    await emptyStoreroom(database);
    const supplyId = await insertSupply(db, { name: "Soda" });
    const other = await insertSupply(db, { name: "Acid", kind: "acid" });
    const lotId = await insertLot(db, { supplyId, code: "SAAA1", amount: 100 });
    const [runId = 0] = await newRuns(1);
    const move = (given: Readonly<Record<string, string | number | null>>) =>
      sql`insert into supply_moves ${sql({ supply_id: supplyId, lot_id: lotId, at: AT.toISOString(), ...given })}`;
    const refused = (constraint: string) => ({ constraint_name: constraint });
    await expect(move({ kind: "used", amount: -101, run_id: runId })).rejects.toMatchObject(
      refused("supply_moves_never_below_zero"),
    );
    await expect(move({ kind: "unused", amount: 1, run_id: runId })).rejects.toMatchObject(
      refused("supply_moves_never_over_given_back"),
    );
    await expect(move({ kind: "counted", amount: 1, lot_id: null })).rejects.toMatchObject(
      refused("supply_moves_beyond_never_above_zero"),
    );
    await expect(move({ kind: "used", amount: -1 })).rejects.toMatchObject(
      refused("supply_moves_used_for_something"),
    );
    await expect(move({ kind: "lost", amount: -1 })).rejects.toMatchObject(
      refused("supply_moves_lost_has_its_cause"),
    );
    await expect(move({ kind: "counted", amount: 5, supply_id: other })).rejects.toMatchObject(
      refused("supply_moves_lot_of_its_supply"),
    );
    await expect(move({ kind: "received", amount: 5 })).rejects.toMatchObject(
      refused("supply_moves_received_once"),
    );
    await expect(sql`update supply_moves set amount = 99`).rejects.toMatchObject(
      refused("supply_moves_written_once"),
    );
    await expect(sql`delete from supply_moves`).rejects.toMatchObject(refused("supply_moves_written_once"));
    await expect(sql`update supplies set kind = 'cup'`).rejects.toMatchObject(
      refused("supplies_keep_their_use"),
    );
  });
});

async function oneStep(
  supplies: readonly number[],
  weighed: readonly number[],
  told: Map<number, { received: number; lost: number }>,
): Promise<void> {
  const { db, sql } = database;
  const pick = <Item>(items: readonly Item[]): Item => items[randomInt(items.length)] as Item;
  const supplyId = pick(supplies);
  const runId = pick(weighed);
  const amount = randomInt(1, 400);
  const actor = { personId, at: AT };
  const sums = told.get(supplyId) ?? { received: 0, lost: 0 };
  const isCup = supplyId === supplies.at(-1);
  const day = "2027-03-01";
  switch (pick(["receive", "use", "use", "use", "give-back", "count", "lose"])) {
    case "receive": {
      const unit = isCup ? ("piece" as const) : ("g" as const);
      const expiresOn = pick([null, "2027-03-01", "2027-05-01", "2027-06-01"]);
      const received = await inTransaction(db, (transaction) =>
        receiveSupply(transaction, actor, {
          ...{ supplyId, supplierId: null, supplierLot: "", priceMinor: null, purchaseId: null },
          ...{ quantity: { thousandths: amount * 1000, unit }, receivedOn: "2027-02-20", expiresOn },
        }),
      );
      expect(received.ok).toBe(true);
      sums.received += isCup ? amount : amount * 1000;
      return;
    }
    case "use":
      return inTransaction(db, (transaction) =>
        useUp(transaction, actor, {
          needs: supplies.map((id) => ({ supplyId: id, amount })),
          ...{ usedFor: { runId }, day },
        }),
      );
    case "give-back":
      return inTransaction(db, (transaction) => giveBack(transaction, actor, { runId }, "all"));
    case "count": {
      const lots = await sql`select lot_id, amount::float8 from supply_lot_balances
        where supply_id = ${supplyId} and amount > 0`;
      const [last] = await sql`select coalesce(max(id), 0)::float8 as id from supply_moves
        where supply_id = ${supplyId}`;
      const counted = lots.map((lot) => ({
        lotId: lot.lot_id as number,
        thousandths: randomInt(0, 300) * 1000,
      }));
      // Void where another was quicker: then nothing is changed.
      await inTransaction(db, (transaction) =>
        countSupply(transaction, actor, { supplyId, lastMove: last?.id ?? 0, counted, note: "" }),
      );
      return;
    }
    default: {
      const [lot] = await sql`select lot_id from supply_lot_balances
        where supply_id = ${supplyId} and amount > 0 order by random() limit 1`;
      if (!lot) return;
      const lost = await inTransaction(db, (transaction) =>
        loseSupply(transaction, actor, {
          ...{ supplyId, lotId: lot.lot_id, cause: "spilled", note: "" },
          thousandths: amount * 1000,
        }),
      );
      if (lost.ok) sums.lost += isCup ? amount : amount * 1000;
    }
  }
}
