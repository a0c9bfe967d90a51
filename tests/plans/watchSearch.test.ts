import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import { readKeptPlan } from "../../server/plans/keptPlan.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { findPlan } from "../../server/plans/queries.ts";
import { firstOwner, ownerAccount, signedIn, useApplication } from "../build/application.ts";
import { insertOrder } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { holdFile } from "./heldWorker.ts";
import { insertTightWorkshop, type TightWorkshop } from "./tightWorkshop.ts";

const application = useApplication(
  createPlanner({
    searchSeconds: 0.1,
    holdUpSeconds: 0.1,
    threads: 1,
    worker: new URL("./heldWorker.ts", import.meta.url),
  }),
);
let owner: Visitor;
/** The same person at another device. */
let elsewhere: Visitor;
let workshop: TightWorkshop;

beforeAll(async () => {
  owner = await firstOwner(application);
  await insertTightWorkshop(application);
  elsewhere = await signedIn(application, ownerAccount);
});

/** Every test begins with the same workshop, no plan, and a planner that does not come to an end by itself. */
beforeEach(async () => {
  const { sql } = application.database;
  await sql`truncate workshop, shapes, blends, products, customers, orders, order_lines, week_sessions,
    calendar_exceptions, plans, runs, lots, moves, changes, form_receipts restart identity cascade`;
  workshop = await insertTightWorkshop(application);
  writeFileSync(holdFile, "");
});
afterEach(letGo);
afterAll(() => rmSync(holdFile, { force: true }));

/** The search comes to its end by itself, and whatever was to be kept of it is. */
async function letGo() {
  rmSync(holdFile, { force: true });
  await expect.poll(async () => (await owner.get("/plan/search")).statusCode).not.toBe(200);
}

/** Asks for a plan as a page with htmx does, and goes where that leads. */
async function watch(visitor: Visitor) {
  const answer = await visitor.post("/plans", {}, { from: "/plan", headers: { "hx-request": "true" } });
  expect([answer.statusCode, answer.headers["hx-redirect"]]).toEqual([200, "/plan/search"]);
  await expect.poll(async () => shownPlan((await visitor.get("/plan/search")).body).plan).not.toBe("");
  return shownPlan((await visitor.get("/plan/search")).body);
}

/** The fields of the form that accepts the plan one is looking at. */
function shownPlan(body: string) {
  return {
    search: /name="search" value="([^"]*)"/.exec(body)?.[1] ?? "",
    plan: /name="plan" value="([^"]*)"/.exec(body)?.[1] ?? "",
  };
}

const accept = (visitor: Visitor, shown: { readonly search: string; readonly plan: string }) =>
  visitor.post("/plan/search/acceptance", shown, { from: "/plans" });
const plansKept = () => application.database.sql<{ id: number; state: string }[]>`
  select id, state from plans order by id`;
const anotherOrder = () =>
  insertOrder(application.database.db, {
    customerId: workshop.customerId,
    reference: "W-110",
    lines: [{ productId: workshop.productId, units: 5 }],
  });

describe("a search that runs", () => {
  it("shows the best plan so far, how good it is and how far it is; and keeps nobody else waiting", async () => {
    await watch(owner);
    const { body } = await owner.get("/plan/search");
    expect(body).toContain("<h1>So far everything ships on time.</h1>");
    expect(body).toContain("Nothing is late: no plan can be better on time.");
    expect(body).toMatch(/<progress id="progress" max="100"/);
    expect(body).toContain("by Wren Oddfellow");
    expect(await plansKept()).toEqual([]);
  });

  it("is found again by whoever comes back, on another device too", async () => {
    const shown = await watch(owner);
    for (const page of ["/plan", "/plans"])
      expect((await elsewhere.get(page)).body).toContain('<a href="/plan/search">See how far it is</a>');
    expect(shownPlan((await elsewhere.get("/plan/search")).body)).toEqual(shown);
  });

  it("is joined by whoever asks for a plan meanwhile: one plan is made, and all are led to it", async () => {
    const waiting = elsewhere.post("/plans", {}, { from: "/plan" });
    await expect.poll(async () => (await owner.get("/plan/search")).statusCode).toBe(200);
    const { search } = shownPlan((await owner.get("/plan/search")).body);
    expect((await watch(owner)).search).toBe(search);
    await letGo();
    expect((await waiting).headers.location).toBe("/plans/1");
    expect((await owner.get("/plan/search")).headers.location).toBe("/plans/1");
    expect(await plansKept()).toEqual([{ id: 1, state: "proposed" }]);
  });

  it("is begun once by a form sent twice, and a third sending is led to its plan", async () => {
    const formToken = crypto.randomUUID();
    const send = () => owner.post("/plans", {}, { from: "/plan", formToken });
    const both = [send(), send()];
    await expect.poll(async () => (await owner.get("/plan/search")).statusCode).toBe(200);
    await letGo();
    const places = (await Promise.all(both)).map(({ headers }) => headers.location);
    expect([...places, (await send()).headers.location]).toEqual(["/plans/1", "/plans/1", "/plans/1"]);
    expect(await plansKept()).toHaveLength(1);
  });

  it("gives way to a newer question, which is the one that is answered", async () => {
    const waiting = owner.post("/plans", {}, { from: "/plan" });
    await expect.poll(async () => (await owner.get("/plan/search")).statusCode).toBe(200);
    const first = shownPlan((await owner.get("/plan/search")).body);
    await anotherOrder();
    const second = await watch(elsewhere);
    expect(second.search).not.toBe(first.search);
    expect((await waiting).headers.location).toBe("/plan/search");
    await letGo();
    expect(await plansKept()).toHaveLength(1);
    const row = await findPlan(application.database.db, 1);
    expect(row && readKeptPlan(row).planCase.orders.map(({ id }) => id)).toEqual(["W-104", "W-110"]);
  });

  it("can be ended at any time: what it has is kept to be looked at", async () => {
    const { search } = await watch(owner);
    const ended = await owner.post("/plan/search/end", { search }, { from: "/plans" });
    expect([ended.statusCode, ended.headers.location]).toEqual([303, "/plans/1"]);
    expect((await owner.get("/plans/1")).body).toContain("was not asked: the search was ended before.");
    expect((await owner.get("/plan/search")).headers.location).toBe("/plans/1");
  });

  it("is not ended by a page of an earlier one", async () => {
    await watch(owner);
    await owner.post("/plan/search/end", { search: crypto.randomUUID() }, { from: "/plans" });
    expect((await owner.get("/plan/search")).statusCode).toBe(200);
  });
});

describe("accepting the plan one is looking at", () => {
  it("ends the search and follows that plan, kept whole with its question", async () => {
    const answer = await accept(owner, await watch(owner));
    expect([answer.statusCode, answer.headers.location]).toEqual([303, "/plans/1"]);
    expect((await owner.get("/plan/search")).headers.location).toBe("/plans/1");
    const row = await findPlan(application.database.db, 1);
    if (!row) throw new Error("the plan is gone");
    const { planCase, plan } = readKeptPlan(row);
    expect([row.state, checkPlan(planCase, plan)]).toEqual(["accepted", []]);
    const { sql } = application.database;
    const { version } = JSON.parse(readFileSync("package.json", "utf8"));
    expect(await sql`select seed, engine_version from plans`).toEqual([{ seed: 1, engine_version: version }]);
    expect(await sql`select 1 from runs where state = 'planned'`).toHaveLength(plan.runs.length);
  });

  it("is done once, however often and from wherever it is asked for", async () => {
    const shown = await watch(owner);
    const answers = await Promise.all([accept(owner, shown), accept(elsewhere, shown)]);
    answers.push(await accept(owner, shown));
    expect(answers.map(({ headers }) => headers.location)).toEqual(["/plans/1", "/plans/1", "/plans/1"]);
    expect(await plansKept()).toEqual([{ id: 1, state: "accepted" }]);
  });

  it("is still possible when the search is over and has kept it", async () => {
    const shown = await watch(owner);
    await letGo();
    expect((await accept(owner, shown)).headers.location).toBe("/plans/1");
    expect(await plansKept()).toEqual([{ id: 1, state: "accepted" }]);
  });

  it("is refused when its question has changed meanwhile; nothing of it is kept", async () => {
    const shown = await watch(owner);
    await anotherOrder();
    const answer = await accept(owner, shown);
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("W-110 has come in.");
    expect(answer.body).toContain("Plan again");
    expect(await plansKept()).toEqual([]);
    expect(await application.database.sql`select 1 from runs`).toHaveLength(0);
  });

  it("is refused in words where the plan is not at hand: after a restart, or on another server", async () => {
    const { plan } = await watch(owner);
    const answer = await accept(owner, { search: crypto.randomUUID(), plan });
    expect([answer.statusCode, answer.body.includes("is not at hand any more")]).toEqual([409, true]);
    expect(await plansKept()).toEqual([]);
  });
});

describe("the news of a search", () => {
  it("are sent as events while it runs, and say when it is over", async () => {
    const { plan } = await watch(owner);
    const stream = await owner.send({ method: "GET", url: "/plan/search/news", payloadAsStream: true });
    expect(stream.headers["content-type"]).toMatch(/^text\/event-stream/);
    let sent = "";
    for await (const chunk of stream.stream()) {
      sent += chunk;
      if (sent.includes("\n\n")) rmSync(holdFile, { force: true });
    }
    const [first, ...more] = sent.trim().split("\n\n");
    expect(first).toMatch(/^data: <h1>So far everything ships on time\.<\/h1>/);
    expect(first).toContain(`name="plan" value="${plan}"`);
    expect(more.at(-1)).toBe("event: over\ndata: over");
  });

  it("are over at once where nothing runs", async () => {
    expect((await owner.get("/plan/search/news")).body).toBe("event: over\ndata: over\n\n");
    expect((await owner.get("/plan/search")).statusCode).toBe(303);
  });

  it("are the owner's", async () => {
    const helper = { name: "Fig Underhill", email: "fig@halfmold.example", password: "black tea and oat" };
    await owner.post("/setup/people", helper, { from: "/setup/people" });
    const fig = await signedIn(application, helper);
    for (const url of ["/plan/search", "/plan/search/news"])
      expect((await fig.get(url)).statusCode).toBe(403);
    for (const url of ["/plan/search/end", "/plan/search/acceptance"])
      expect((await fig.post(url, {}, { from: "/nowhere" })).statusCode).toBe(403);
  });
});
