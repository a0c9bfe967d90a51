import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import { readKeptPlan } from "../../server/plans/keptPlan.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { findPlan } from "../../server/plans/queries.ts";
import { firstOwner, signedIn, type TestApplication, useApplication } from "../build/application.ts";
import {
  insertCustomer,
  insertOrder,
  insertProduct,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { insertTightWorkshop, planNow } from "./tightWorkshop.ts";

describe("a workshop without a question", () => {
  const application = useApplication();
  let owner: Visitor;
  beforeAll(async () => {
    owner = await firstOwner(application);
    await insertWorkshop(application.database.db);
  });

  it("is invited to plan", async () => {
    const page = await owner.get("/plan");
    expect([page.statusCode, page.body.includes("<h1>No plan yet")]).toEqual([200, true]);
    expect((await owner.get("/plans")).body).toContain("<h1>The workshop follows no plan yet.</h1>");
  });

  it("hears that no session comes, and no plan is kept", async () => {
    const answer = await owner.post("/plans", {}, { from: "/plan" });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("no session comes within the days planned ahead");
    expect(await application.database.sql`select 1 from plans`).toHaveLength(0);
  });

  it("hears that no order waits, and no plan is kept", async () => {
    await insertWorkingWeek(application.database.db);
    const answer = await owner.post("/plans", {}, { from: "/plan" });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("no order waits to be packed");
    expect(await application.database.sql`select 1 from plans`).toHaveLength(0);
  });
});

describe("a workshop with orders", () => {
  const application = useApplication();
  let owner: Visitor;
  let planId: number;
  beforeAll(async () => {
    owner = await firstOwner(application);
    await insertTightWorkshop(application);
    planId = await planNow(owner);
  });

  it("is shown the answer in a sentence, whom each batch is for, and what becomes of each order", async () => {
    const page = await owner.get(`/plans/${planId}`);
    expect(page.statusCode).toBe(200);
    expect(page.body).toMatch(/<h1>Everything ships on time/);
    expect(page.body).toContain("for W-104 The Lamplit Otter (24)");
    expect(page.body).toContain("The last to come: 24 × cedar-amber ball-60, pressed Mon 1 Mar");
    expect(page.body).toContain("Accept this plan");
  });

  it("keeps the plan whole with its question, which answers the same when it is put again", async () => {
    const row = await findPlan(application.database.db, planId);
    if (!row) throw new Error("the plan is gone");
    const kept = readKeptPlan(row);
    expect(checkPlan(kept.planCase, kept.plan)).toEqual([]);
    expect(kept.planCase.stock).toEqual([{ product: "cedar-amber/ball-60", units: 12 }]);
    const planner = createPlanner({ searchSeconds: 0.3, threads: 1 });
    const again = await planner.search(kept.planCase, { seed: 1 });
    await planner.close();
    if (!again.ok) throw new Error(again.refusal.kind);
    expect(again.value.plan.cost).toBe(kept.plan.cost);
  });

  it("says who planned, in the history too", async () => {
    const changes = await application.database.sql`select what from changes where subject = 'plan'`;
    expect(changes.map(({ what }) => what)).toEqual(["proposed"]);
    expect((await owner.get("/plans")).body).toContain("by Wren Oddfellow");
  });

  it("makes one plan of a form sent twice", async () => {
    const before = await application.database.sql`select 1 from plans`;
    const formToken = randomUUID();
    const send = () => owner.post("/plans", {}, { from: "/plan", formToken });
    const [first, second] = [await send(), await send()];
    expect([first.statusCode, second.headers.location]).toEqual([303, first.headers.location]);
    expect(await application.database.sql`select 1 from plans`).toHaveLength(before.length + 1);
  });

  it("finds the proposal again under Plan, and from an older plan the one that waits", async () => {
    const [newest] = await application.database.sql<{ id: number }[]>`select max(id) as id from plans`;
    const found = (await owner.get("/plan")).body;
    expect(found).toContain(`Plan ${newest?.id}: proposed`);
    expect(found).not.toContain("waits to be accepted");
    expect((await owner.get(`/plans/${planId}`)).body).toContain(
      `<a href="/plans/${newest?.id}">Plan ${newest?.id}</a> was made later and waits to be accepted.`,
    );
  });

  it("knows no plan of another number", async () => {
    for (const id of ["999", "0", "first"]) expect((await owner.get(`/plans/${id}`)).statusCode).toBe(404);
  });

  it("keeps its plans from a helper", async () => {
    const helper = { name: "Fig Underhill", email: "fig@halfmold.example", password: "black tea and oat" };
    await owner.post("/setup/people", helper, { from: "/setup/people" });
    const fig = await signedIn(application, helper);
    for (const url of ["/plan", "/plans", `/plans/${planId}`])
      expect((await fig.get(url)).statusCode).toBe(403);
    // A helper's page without the owner's forms still carries a token: signing out is a form.
    for (const url of ["/plans", `/plans/${planId}/acceptance`]) {
      expect((await fig.post(url, {}, { from: "/nowhere" })).statusCode).toBe(403);
    }
  });
});

describe("a hostile name", () => {
  const application = useApplication();

  it("is drawn as text on board, list and table", async () => {
    const owner = await firstOwner(application);
    const { db, sql } = application.database;
    await insertWorkshop(db);
    await insertWorkingWeek(db);
    const hostile = `"><script>alert(1)</script><a href='javascript:alert(2)'>`;
    const productId = await insertProduct(db, { name: hostile });
    await sql`update blends set name = ${hostile}`;
    await sql`update shapes set name = ${hostile}`;
    const customerId = await insertCustomer(db, { name: hostile });
    await insertOrder(db, { customerId, reference: "<b>W-1</b>", lines: [{ productId, units: 36 }] });
    const page = await owner.get(`/plans/${await planNow(owner)}`);
    expect(page.statusCode).toBe(200);
    expect(page.body).toContain("&lt;script>alert(1)");
    expect(page.body).not.toMatch(/<script>alert|<a href='javascript|<b>W-1/);
  });
});

describe("a planner that dies", () => {
  const application: TestApplication = useApplication(
    createPlanner({ worker: new URL("./dyingWorker.ts", import.meta.url) }),
  );

  it("is answered for in words; nothing is kept and the server goes on", async () => {
    const owner = await firstOwner(application);
    await insertTightWorkshop(application);
    const answer = await owner.post("/plans", {}, { from: "/plan" });
    expect(answer.statusCode).toBe(503);
    expect(answer.body).toContain("No plan was made: the planner stopped before it had one.");
    expect(await application.database.sql`select 1 from plans`).toHaveLength(0);
    expect((await owner.get("/plan")).statusCode).toBe(200);
  });
});

describe("an order that can't be in time", () => {
  const application = useApplication();

  it("is explained on the plan's page, with what it waits for and what it could be at best", async () => {
    const owner = await firstOwner(application);
    const { productId, customerId } = await insertTightWorkshop(application);
    // Nothing formed today is packed before Tuesday, whoever else has ordered.
    const lines = [{ productId, units: 20 }];
    await insertOrder(application.database.db, {
      customerId,
      reference: "W-120",
      shipBy: "2027-03-01",
      lines,
    });
    const page = (await owner.get(`/plans/${await planNow(owner)}`)).body.replaceAll(/<[^>]+>/g, "");
    expect(page).toContain("Why orders are late");
    expect(page).toMatch(
      /W-120 for The Lamplit Otter, ship by Mon 1 Mar\. It waits for .* packed on Tuesday 2 March, 1 day late\./,
    );
    expect(page).toContain("ready on Tuesday 2 March: late whatever you do.");
  });
});
