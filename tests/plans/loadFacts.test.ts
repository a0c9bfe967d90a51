import { beforeEach, describe, expect, it } from "vitest";
import { loadFacts } from "../../server/plans/loadFacts.ts";
import type { PlanFacts } from "../../server/plans/planFacts.ts";
import {
  insertCustomer,
  insertDryingLot,
  insertOrder,
  insertPerson,
  insertPlan,
  insertProduct,
  insertReadyLot,
  insertRun,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";

const database = useDatabase();
let productId: number;
let customerId: number;

beforeEach(async () => {
  const { db, sql } = database;
  await sql`truncate workshop, shapes, blends, products, customers, orders, week_sessions, calendar_exceptions,
    people, plans, runs, lots, moves restart identity cascade`;
  await insertWorkshop(db);
  productId = await insertProduct(db);
  customerId = await insertCustomer(db);
});

const product = "cedar-amber/ball-60";

async function facts(): Promise<PlanFacts> {
  return await database.db.transaction((transaction) => loadFacts(transaction));
}

describe("orders", () => {
  it("count while they are to be packed, with what is left to pack", async () => {
    const states = ["draft", "confirmed", "packing", "cancelled"] as const;
    for (const state of states) {
      const times = state === "cancelled" ? { cancelledAt: new Date() } : {};
      await insertOrder(database.db, {
        customerId,
        reference: `W-${state}`,
        state,
        ...(state === "draft" ? { confirmedAt: null } : {}),
        ...times,
        lines: [{ productId, units: 36 }],
      });
    }
    const lotId = await insertReadyLot(database.db, { productId, units: 40 });
    const [line] = await database.sql`select order_lines.id from order_lines
      join orders on orders.id = order_id where state = 'packing'`;
    await database.sql`insert into moves (lot_id, kind, units, order_line_id, at)
      values (${lotId}, 'packed', -10, ${line?.id}, now())`;
    const { orders, stock } = await facts();
    expect(orders.map(({ reference, lines }) => [reference, lines])).toEqual([
      ["W-confirmed", [{ product, units: 36 }]],
      ["W-packing", [{ product, units: 26 }]],
    ]);
    // What is packed lies no longer on the shelf.
    expect(stock).toEqual([{ product, units: 30 }]);
  });

  it("keep a product in the question that is no longer made", async () => {
    await database.sql`update products set retired_at = now()`;
    expect((await facts()).products).toEqual([]);
    await insertOrder(database.db, { customerId, lines: [{ productId, units: 5 }] });
    const { products, shapes, blends } = await facts();
    expect(products).toMatchObject([{ code: product, blend: "cedar-amber", shape: "ball-60" }]);
    expect([shapes[0]?.code, blends[0]?.code]).toEqual(["ball-60", "cedar-amber"]);
  });
});

describe("lots", () => {
  it("being mixed count what they are planned to give; those of runs not begun count nothing", async () => {
    const personId = await insertPerson(database.db, { name: "Fig Underhill" });
    const planId = await insertPlan(database.db, { personId });
    const [blend] = await database.sql`select id from blends`;
    const run = { planId, blendId: blend?.id, lots: [{ productId, units: 24, code: "K3M" }] };
    const { runId } = await insertRun(database.db, { ...run, dryingFactor: 1.2 });
    expect((await facts()).lots).toEqual([]);
    await database.sql`update runs set state = 'mixing', started_at = '2027-03-01T09:05:00Z' where id = ${runId}`;
    await database.sql`update lots set state = 'mixing' where run_id = ${runId}`;
    const { lots, runsOnBench } = await facts();
    expect(lots).toMatchObject([
      {
        product,
        state: "mixing",
        units: 24,
        pressed: 24,
        trays: 1,
        dryingFactor: 1.2,
        sessionEndsAt: new Date("2027-03-01T13:00:00Z"),
        unmoldDueAt: null,
      },
    ]);
    expect(runsOnBench).toEqual([
      {
        startedAt: new Date("2027-03-01T09:05:00Z"),
        sessionEndsAt: new Date("2027-03-01T13:00:00Z"),
        bowls: 2,
        pieces: [{ product, units: 24 }],
      },
    ]);
  });
});

describe("losses", () => {
  it("are known by what a lot had when it was pressed, and by what its product is expected to lose", async () => {
    const lotId = await insertDryingLot(database.db, { productId, units: 24 });
    await database.sql`insert into moves (lot_id, kind, units, cause, at) values (${lotId}, 'lost', -3, 'stuck', now())`;
    await database.sql`update products set loss_basis_points = 450`;
    const { lots, products } = await facts();
    expect(lots).toMatchObject([{ product, units: 21, pressed: 24 }]);
    expect(products).toMatchObject([{ code: product, lossBasisPoints: 450 }]);
  });
});

describe("the calendar", () => {
  it("is the week as written down and what dates do differently", async () => {
    await insertWorkingWeek(database.db);
    await database.sql`insert into calendar_exceptions (on_date, kind, drying_factor) values ('2027-03-02', 'damp', 1.5)`;
    await database.sql`insert into calendar_exceptions (on_date, kind) values ('2027-03-03', 'day-off')`;
    const { calendar } = await facts();
    expect(calendar.week).toHaveLength(10);
    expect(calendar).toMatchObject({
      timeZone: "UTC",
      horizonDays: 14,
      exceptions: [
        { kind: "damp", onDate: "2027-03-02", dryingFactor: 1.5 },
        { kind: "day-off", onDate: "2027-03-03" },
      ],
    });
  });
});
