import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { inTransaction } from "../../db/transaction.ts";
import { startRun } from "../../server/bench/startRun.ts";
import { readKeptPlan } from "../../server/plans/keptPlan.ts";
import { findPlan } from "../../server/plans/queries.ts";
import { lotCodeAlphabet } from "../../server/shelf/lotCode.ts";
import { firstOwner, useApplication } from "../build/application.ts";
import { insertOrder } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { untilWaiting } from "../db/untilWaiting.ts";
import { accept, insertTightWorkshop, planNow, type TightWorkshop } from "./tightWorkshop.ts";

const application = useApplication();
let owner: Visitor;
let workshop: TightWorkshop;

beforeAll(async () => {
  owner = await firstOwner(application);
});

/** Every test begins with the same workshop and no plan. */
beforeEach(async () => {
  const { sql } = application.database;
  await sql`truncate workshop, shapes, blends, products, customers, orders, order_lines, week_sessions,
    calendar_exceptions, plans, runs, lots, moves, changes, form_receipts restart identity cascade`;
  application.clock.set("2027-03-01T08:00:00Z");
  workshop = await insertTightWorkshop(application);
});

const states = async () => {
  const { sql } = application.database;
  const plans = await sql`select state from plans order by id`;
  const runs = await sql`select state from runs order by id`;
  const lots = await sql`select state from lots where run_id is not null order by id`;
  return [plans, runs, lots].map((rows) => rows.map(({ state }) => state));
};

describe("accepting a plan", () => {
  it("puts its runs and lots on the bench, at the sessions' true instants", async () => {
    const planId = await planNow(owner);
    const answer = await accept(owner, planId);
    expect([answer.statusCode, answer.headers.location]).toEqual([303, `/plans/${planId}`]);

    const row = await findPlan(application.database.db, planId);
    if (!row) throw new Error("the plan is gone");
    const { plan } = readKeptPlan(row);
    expect(row).toMatchObject({ state: "accepted", acceptedBy: "Wren Oddfellow" });
    const { sql } = application.database;
    const runs = await sql`select * from runs order by id`;
    expect(runs.map(({ bowls }) => bowls)).toEqual(plan.runs.map(({ bowls }) => bowls));
    expect(runs[0]).toMatchObject({
      state: "planned",
      plan_id: planId,
      session_starts_at: new Date("2027-03-01T09:00:00Z"),
      session_ends_at: new Date("2027-03-01T13:00:00Z"),
      drying_factor: "1.00",
    });
    const lots = await sql`select * from lots where run_id is not null order by id`;
    const pieces = plan.runs.flatMap((run) => run.pieces);
    expect(lots.map(({ planned_units }) => planned_units)).toEqual(pieces.map(({ units }) => units));
    for (const lot of lots) {
      expect(lot).toMatchObject({ state: "planned", trays: Math.ceil(lot.planned_units / 20) });
      expect(lot.code).toMatch(new RegExp(`^[${lotCodeAlphabet}]{4}$`));
    }
    expect((await owner.get("/plan")).body).toContain("followed now");
  });

  it("gives damp days and their factor to the runs, and the session under way what is left of it", async () => {
    await application.database.sql`insert into calendar_exceptions (on_date, kind, drying_factor)
      values ('2027-03-01', 'damp', 1.1)`;
    application.clock.set("2027-03-01T10:00:30Z");
    await accept(owner, await planNow(owner));
    const [run] = await application.database.sql`select * from runs order by session_starts_at limit 1`;
    expect(run).toMatchObject({
      session_starts_at: new Date("2027-03-01T10:01:00Z"),
      session_ends_at: new Date("2027-03-01T13:00:00Z"),
      drying_factor: "1.10",
    });
  });

  it("is done once, however often it is asked for", async () => {
    const planId = await planNow(owner);
    await accept(owner, planId);
    const before = await states();
    expect((await accept(owner, planId)).statusCode).toBe(303);
    expect(await states()).toEqual(before);
    const accepted = await application.database.sql`select 1 from changes where what = 'accepted'`;
    expect(accepted).toHaveLength(1);
  });

  it("says who, when, what before and what after", async () => {
    const planId = await planNow(owner);
    await accept(owner, planId);
    const [change] = await application.database.sql`select * from changes where what = 'accepted'`;
    expect(change).toMatchObject({
      subject: "plan",
      subject_id: planId,
      person_id: 1,
      before: { state: "proposed" },
      after: { state: "accepted" },
    });
    const planned = await application.database
      .sql`select 1 from changes where subject = 'lot' and what = 'planned'`;
    const lots = await application.database.sql`select 1 from lots where run_id is not null`;
    expect(planned).toHaveLength(lots.length);
  });

  it("knows no plan of another number", async () => {
    await planNow(owner);
    expect((await owner.post("/plans/999/acceptance", {}, { from: "/plan" })).statusCode).toBe(404);
  });
});

describe("a plan that was overtaken", () => {
  it("is not accepted when an order came in; the answer says so and offers to plan again", async () => {
    const planId = await planNow(owner);
    const { customerId, productId } = workshop;
    await insertOrder(application.database.db, {
      customerId,
      reference: "W-110",
      lines: [{ productId, units: 5 }],
    });
    const answer = await accept(owner, planId);
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("W-110 has come in.");
    expect(answer.body).toContain("Plan again");
    expect(answer.body).not.toContain("Accept this plan");
    expect(await states()).toEqual([["proposed"], [], []]);
  });

  it("is not accepted when its only order was called off", async () => {
    const planId = await planNow(owner);
    await application.database.sql`update orders set state = 'cancelled', cancelled_at = now()`;
    const answer = await accept(owner, planId);
    expect([answer.statusCode, answer.body.includes("A plan answers confirmed orders.")]).toEqual([
      409,
      true,
    ]);
    expect(await states()).toEqual([["proposed"], [], []]);
  });

  it("is not accepted when pieces it counts on are lost", async () => {
    const planId = await planNow(owner);
    await application.database.sql`insert into moves (lot_id, kind, units, cause, at)
      values (${workshop.lotId}, 'lost', -2, 'cracked', now())`;
    const answer = await accept(owner, planId);
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain(
      "It counted on 2 pieces of cedar-amber ball-60 that are not there any more.",
    );
  });

  it("is accepted all the same when pieces were packed since", async () => {
    const planId = await planNow(owner);
    await application.database.sql`insert into moves (lot_id, kind, units, order_line_id, at)
      values (${workshop.lotId}, 'packed', -10, ${workshop.lineId}, now())`;
    await application.database.sql`update orders set state = 'packing'`;
    expect((await accept(owner, planId)).statusCode).toBe(303);
  });

  it("is not accepted when a session it mixes in is over", async () => {
    const planId = await planNow(owner);
    application.clock.set("2027-03-01T13:00:00Z");
    const answer = await accept(owner, planId);
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("It mixes in a session of Monday 1 March that is over.");
  });

  it("is accepted in the last minute of its first session", async () => {
    const planId = await planNow(owner);
    application.clock.set("2027-03-01T12:59:59Z");
    expect((await accept(owner, planId)).statusCode).toBe(303);
  });

  it("is not accepted once another was", async () => {
    const [older, newer] = [await planNow(owner), await planNow(owner)];
    expect((await accept(owner, newer)).statusCode).toBe(303);
    const answer = await accept(owner, older);
    expect([answer.statusCode, answer.body.includes(`Plan ${newer} was accepted after this one`)]).toEqual([
      409,
      true,
    ]);
  });
});

describe("planning again", () => {
  it("withdraws what nobody has begun, and gives the rest a later plan", async () => {
    const first = await planNow(owner);
    await accept(owner, first);
    const [, before] = await states();
    const second = await planNow(owner);
    await accept(owner, second);
    const [plans, runs, lots] = await states();
    expect(plans).toEqual(["superseded", "accepted"]);
    expect(runs?.slice(0, before?.length)).toEqual(before?.map(() => "withdrawn"));
    expect(runs?.slice(before?.length)).toEqual(before?.map(() => "planned"));
    expect(lots?.filter((state) => state === "withdrawn")).not.toEqual([]);
    const answer = await owner.post(`/plans/${first}/acceptance`, {}, { from: `/plans/${first}` });
    expect([answer.statusCode, answer.body.includes("A later plan took its place.")]).toEqual([409, true]);
  });

  it("never moves work that is begun, even in the same session and blend", async () => {
    await accept(owner, await planNow(owner));
    const [run] = await application.database.sql`select id from runs order by session_starts_at limit 1`;
    // Begun before its session starts; then more is ordered.
    await inTransaction(application.database.db, (transaction) =>
      startRun(transaction, { personId: 1, at: application.clock.now() }, { runId: run?.id }),
    );
    const begun = await application.database.sql`select * from runs where id = ${run?.id}`;
    const { customerId, productId } = workshop;
    await insertOrder(application.database.db, {
      customerId,
      reference: "W-110",
      shipBy: "2027-03-02",
      lines: [{ productId, units: 20 }],
    });
    const again = await planNow(owner);
    expect((await accept(owner, again)).statusCode).toBe(303);
    expect(await application.database.sql`select * from runs where id = ${run?.id}`).toEqual(begun);
    const lots = await application.database.sql`select state from lots where run_id = ${run?.id}`;
    expect(new Set(lots.map(({ state }) => state))).toEqual(new Set(["mixing"]));
    const fresh = await application.database
      .sql`select 1 from runs where plan_id = ${again} and state = 'planned'`;
    expect(fresh.length).toBeGreaterThan(0);
  });

  it("is not accepted when a run of the followed plan was begun meanwhile", async () => {
    await accept(owner, await planNow(owner));
    const second = await planNow(owner);
    const [run] = await application.database.sql`select id from runs order by session_starts_at limit 1`;
    await inTransaction(application.database.db, (transaction) =>
      startRun(transaction, { personId: 1, at: application.clock.now() }, { runId: run?.id }),
    );
    const answer = await accept(owner, second);
    expect([answer.statusCode, answer.body.includes("that it did not count on: made, found")]).toEqual([
      409,
      true,
    ]);
    expect((await states())[0]).toEqual(["accepted", "proposed"]);
  });
});

describe("accepting at once", () => {
  /** Sends both while a third party holds the lock each needs, and lets go when both wait for it. */
  async function bothAtOnce(planIds: readonly [number, number]) {
    const { sql } = application.database;
    const answers = planIds.map((planId) => () => accept(owner, planId));
    return await sql.begin(async (holder) => {
      await holder`lock table plans in share row exclusive mode`;
      const sent = answers.map((send) => send());
      await untilWaiting(sql, 2);
      return sent;
    });
  }

  it("two plans: one wins, the other is told", async () => {
    const planIds = [await planNow(owner), await planNow(owner)] as const;
    const answers = await Promise.all(await bothAtOnce(planIds));
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([303, 409]);
    expect((await states())[0]?.sort()).toEqual(["accepted", "proposed"]);
  });

  it("the same plan twice: both are led to it, and it is carried out once", async () => {
    const planId = await planNow(owner);
    const answers = await Promise.all(await bothAtOnce([planId, planId]));
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([303, 303]);
    const row = await findPlan(application.database.db, planId);
    if (!row) throw new Error("the plan is gone");
    expect(await application.database.sql`select 1 from runs`).toHaveLength(
      readKeptPlan(row).plan.runs.length,
    );
  });
});

describe("cut off half-way", () => {
  it("leaves nothing behind, and can be done again", async () => {
    const planId = await planNow(owner);
    const before = await states();
    const { sql } = application.database;
    const sent = await sql.begin(async (holder) => {
      // Runs and the first lot are written by the time the history wants its entry.
      await holder`lock table changes in share mode`;
      const answer = accept(owner, planId);
      await untilWaiting(sql, 1);
      await sql`select pg_cancel_backend(pid) from pg_locks
        where not granted and relation = 'changes'::regclass`;
      return answer;
    });
    expect((await sent).statusCode).toBe(500);
    expect(await states()).toEqual(before);
    expect((await accept(owner, planId)).statusCode).toBe(303);
  });
});
