import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { shapes } from "../../db/schema/workshop.ts";
import { inTransaction } from "../../db/transaction.ts";
import { planCase as findPlan } from "../../server/planning/planCase.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { askQuestion } from "../../server/plans/askQuestion.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { changeShape } from "../../server/workshop/changeShape.ts";
import { firstOwner, useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import {
  insertCustomer,
  insertOrder,
  insertProduct,
  insertReadyLot,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { orderFields } from "../orders/desk.ts";

/* A search that ends by the clock finds what it must also on a busy machine: the longest that the page itself lets it have. */
const application = useApplication(createPlanner({ searchSeconds: 1, threads: 1 }));
let owner: Visitor;
let customerId: number;
let ball: number;

beforeAll(async () => {
  owner = await firstOwner(application);
  const { db } = application.database;
  await insertWorkshop(db, { trays: 30, minBowlMilligrams: 0 });
  await insertWorkingWeek(db);
  ball = await insertProduct(db, { code: "oat/ball-60", name: "Oat ball" });
  customerId = await insertCustomer(db, { name: "The Lamplit Otter" });
  await insertOrder(db, {
    ...{ customerId, reference: "W-1", shipBy: "2027-03-03" },
    lines: [{ productId: ball, units: 20 }],
  });
});

const promises = () => owner.get("/week/promises");

/** Follows a plan that is kept as these say. */
async function follow(planCase: unknown, answer: unknown, instants: unknown): Promise<void> {
  const { sql } = application.database;
  await sql`update plans set state = 'superseded' where state = 'accepted'`;
  await sql`insert into plans (state, plan_case, answer, hold_ups, session_instants, seed, engine_version,
    as_of_change, planned_at, planned_by, accepted_at, accepted_by)
    select 'accepted', ${sql.json(planCase as never)}, ${sql.json(answer as never)}, '{}', ${sql.json(instants as never)},
      1, '1', 0, now(), id, now(), id from people where role = 'owner'`;
}

async function followToday(): Promise<void> {
  const question = await askQuestion(application.database.db, new Date("2027-03-01T08:00:00Z"));
  if (!question.ok) throw new Error(question.refusal.kind);
  const { planCase, sessionInstants } = question.value;
  await follow(planCase, findPlan(planCase, { seed: 1, stop: afterIterations(200) }), sessionInstants);
}

describe("whether the promises of the followed plan hold", () => {
  it("is no question before a plan is followed", async () => {
    expect(headingOf((await promises()).body)).toContain("No plan is followed");
  });

  it("is answered honestly where the plan that is followed can't be read back", async () => {
    await follow({}, { orders: [] }, []);
    const page = await promises();
    expect(page.statusCode).toBe(200);
    expect(headingOf(page.body)).toContain("can't be read back");
    const form = await owner.get("/orders/new");
    expect(form.statusCode).toBe(200);
  });

  it("is yes while nothing happened that it depends on", async () => {
    await followToday();
    expect(headingOf((await promises()).body)).toBe("Every promise of the plan can still be kept.");
  });

  it("is yes for those whom a later order leaves where they are, and no for the order that can't be in time", async () => {
    const order = orderFields({ customer: String(customerId), ship_by: "2027-03-02", lines: [[ball, "20"]] });
    const entered = await owner.post("/orders/new", { ...order, reference: "W-2" }, { from: "/orders/new" });
    expect(entered.statusCode).toBe(303);
    const page = await promises();
    expect(headingOf(page.body)).toBe("One promise is in danger.");
    expect(page.body).toContain("W-2 was taken after the plan");
    expect(page.body).not.toContain(">W-1<");
  });
});

describe("what put a promise in danger is named, with who did it", () => {
  let lotId: number;

  /** 20 balls by Wednesday, to be pressed on Monday and ready just then, and 12 by Tuesday from the shelf. */
  beforeEach(async () => {
    const { db, sql } = application.database;
    await sql`truncate orders, lots, moves, plans, runs, calendar_exceptions cascade`;
    await sql`update shapes set mold_sets = 24`;
    const lines = (units: number) => [{ productId: ball, units }];
    await insertOrder(db, { customerId, reference: "W-1", shipBy: "2027-03-03", lines: lines(20) });
    await insertOrder(db, {
      customerId,
      reference: "W-2",
      shipBy: "2027-03-02",
      weight: 3,
      lines: lines(12),
    });
    lotId = await insertReadyLot(db, { productId: ball, units: 12 });
    await followToday();
    await sql`update plans set as_of_change = coalesce((select max(id) from changes), 0)`;
    expect(headingOf((await promises()).body)).toBe("Every promise of the plan can still be kept.");
  });

  const told = async () => textOf((await promises()).body);

  it("a damp day", async () => {
    // Twice 16 hours from 13:00 on Monday are Tuesday 21:00, so unmolded on Wednesday and ready on Thursday.
    const damp = { onDate: "2027-03-01", lastDate: "", dryingFactor: "2", note: "" };
    expect(
      (await owner.post("/setup/sessions/damp", damp, { from: "/setup/sessions/damp" })).statusCode,
    ).toBe(303);
    expect(await told()).toMatch(
      /W-1 The Lamplit Otter promised in time, now 1 day late The session on Mon 1 Mar is another: fewer hands, or damp\./,
    );
  });

  it("broken sets", async () => {
    const { db } = application.database;
    await inTransaction(db, async (transaction) => {
      const [row] = await transaction.select().from(shapes);
      if (!row) throw new Error("There is no shape");
      const { id: shapeId, retiredAt: _retiredAt, ...numbers } = row;
      const actor = { personId: 1, at: application.clock.now() };
      // Five sets hold nine pieces: 20 fresh ones are three nights. W-2, which counts three times as much, keeps the shelf.
      return await changeShape(transaction, actor, { ...numbers, shapeId, moldSets: 5 });
    });
    expect(await told()).toMatch(
      /W-1 The Lamplit Otter promised in time, now .* The numbers of ball-60 were changed: its mold sets or its times\..*Wren Oddfellow/,
    );
  });

  it("lost pieces", async () => {
    const lost = await owner.post(
      `/shelf/${lotId}/loss`,
      { lostUnits: "5", cause: "cracked", lossNote: "" },
      { from: `/shelf/${lotId}` },
    );
    expect(lost.statusCode).toBe(303);
    expect(await told()).toMatch(
      /W-2 The Lamplit Otter promised in time, now 1 day late There are 5 pieces of Oat ball fewer than the plan counted on\..*Wren Oddfellow/,
    );
  });
});
