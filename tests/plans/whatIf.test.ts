import { rmSync, writeFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { checkPlan } from "../../server/planning/checkPlan.ts";
import { buildCase } from "../../server/plans/buildCase.ts";
import { planBoth } from "../../server/plans/planBoth.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { ADDED, changedCase, type WhatIf } from "../../server/plans/whatIf.ts";
import { firstOwner, useApplication } from "../build/application.ts";
import { factsOf, orderOf } from "../build/planFacts.ts";
import { insertOrder } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { heldFile, heldSearches, holdFile } from "./heldWorker.ts";
import { insertTightWorkshop } from "./tightWorkshop.ts";

const asToday: WhatIf = {
  molds: null,
  trays: null,
  mixers: null,
  handMinutes: null,
  damp: null,
  without: null,
  added: null,
};

/** Three orders of 120, 80 and 60 pieces: far more than 47 places in molds let through by Friday. */
function question() {
  const orders = [120, 80, 60].map((units, index) =>
    orderOf({ reference: `W-${index}`, lines: [{ product: "cedar/ball-60", units }] }),
  );
  const built = buildCase(factsOf({ orders }), new Date("2027-03-01T08:00:00Z"));
  if (!built.ok) throw new Error("no case");
  return built.value.planCase;
}

function changed(whatIf: Partial<WhatIf>) {
  const answer = changedCase(question(), { ...asToday, ...whatIf });
  if (!answer.ok) throw new Error(JSON.stringify(answer.refusal));
  return answer.value;
}

describe("the question with other numbers", () => {
  it("is today's in everything that is not said to be different", () => {
    expect(changed({})).toEqual(question());
    const today = question();
    expect(changed({ trays: 9, mixers: 2 })).toEqual({ ...today, trays: 9, mixers: 2 });
    expect(changed({ molds: { shape: "ball-60", sets: 30 } }).shapes[0]).toEqual({
      ...today.shapes[0],
      moldSets: 30,
    });
    expect(changed({ handMinutes: -300 }).sessions.map(({ handMinutes }) => handMinutes)).toEqual(
      today.sessions.map(() => 0),
    );
    const damp = changed({ damp: { date: "2027-03-02", factor: 1.5 } }).sessions;
    expect(damp.map(({ date, dryingFactor }) => [date, dryingFactor])).toEqual(
      today.sessions.map(({ date }) => [date, date === "2027-03-02" ? 1.5 : 1]),
    );
    expect(changed({ without: "W-1" }).orders.map(({ id }) => id)).toEqual(["W-0", "W-2"]);
    const added = { product: "cedar/ball-60", units: 12, shipBy: "2027-03-04" };
    expect(changed({ added }).orders.at(-1)).toEqual({
      id: ADDED,
      terms: "complete",
      shipBy: "2027-03-04",
      weight: 1,
      lines: [{ product: "cedar/ball-60", units: 12 }],
    });
  });

  it("is refused where it speaks of what is not there, or leaves nothing to plan", () => {
    const refused = (whatIf: Partial<WhatIf>) => {
      const answer = changedCase(question(), { ...asToday, ...whatIf });
      return answer.ok ? null : answer.refusal;
    };
    expect(refused({ molds: { shape: "egg", sets: 3 } })).toEqual({ field: "shape", problem: "unknown" });
    expect(refused({ without: "W-9" })).toEqual({ field: "without", problem: "unknown" });
    expect(refused({ damp: { date: "2027-04-02", factor: 2 } })).toMatchObject({ problem: "no-session" });
    expect(refused({ added: { product: "egg", units: 1, shipBy: "2027-03-04" } })).toMatchObject({
      field: "product",
    });
    const only = { ...question(), orders: question().orders.slice(0, 1) };
    expect(changedCase(only, { ...asToday, without: "W-0" })).toMatchObject({
      refusal: { problem: "no-order-left" },
    });
  });
});

describe("two plans side by side", () => {
  const planner = createPlanner({ searchSeconds: 0.05, threads: 1 });
  afterAll(() => planner.close());

  it("never show more of a thing as worse, nor less of it as better", async () => {
    const today = question();
    for (const sets of [10, 23, 24, 25, 60]) {
      const other = changed({ molds: { shape: "ball-60", sets } });
      const both = await planBoth(planner, today, other, new AbortController().signal);
      if (!both.ok) throw new Error(both.refusal.kind);
      const [plan, otherPlan] = both.value;
      expect([checkPlan(today, plan), checkPlan(other, otherPlan)]).toEqual([[], []]);
      if (sets >= 24) expect(otherPlan.cost).toBeLessThanOrEqual(plan.cost);
      if (sets <= 24) expect(otherPlan.cost).toBeGreaterThanOrEqual(plan.cost);
    }
  });
});

describe("the page of a what-if", () => {
  const application = useApplication(createPlanner({ searchSeconds: 2, threads: 1 }));
  let owner: Visitor;
  beforeAll(async () => {
    owner = await firstOwner(application);
    const { customerId, productId } = await insertTightWorkshop(application);
    // With the 12 on the shelf 43 have to be made: they fit the 47 places in molds, but not beside the other order.
    const lines = [{ productId, units: 55 }];
    await insertOrder(application.database.db, {
      customerId,
      reference: "W-120",
      shipBy: "2027-03-02",
      lines,
    });
  });

  const text = async (query: string) => {
    const page = await owner.get(`/plan/what-if${query}`);
    return { status: page.statusCode, words: page.body.replaceAll(/<[^>]+>/g, " ").replaceAll(/\s+/g, " ") };
  };

  it("shows the orders as today and then, those that fare differently first, and keeps nothing", async () => {
    const { status, words } = await text("?without=W-104");
    expect(status).toBe(200);
    expect(words).toMatch(/Without W-104: everything ships on time, instead of/);
    expect(words).toMatch(/W-104 The Lamplit Otter Tue 2 Mar .* left out/);
    expect(words).toContain("Nothing is kept");
    expect(await application.database.sql`select 1 from plans`).toHaveLength(0);
  });

  it("is asked again by its address, with the form filled in as it was", async () => {
    const page = (await owner.get("/plan/what-if?shape=ball-60&sets=80&trays=40")).body;
    expect(page).toMatch(/name="sets"[^>]* value="80"/);
    expect(page).toMatch(/name="trays"[^>]* value="40"/);
    expect(page).toContain('<a href="/setup/shapes">');
  });

  it("is a form alone where nothing was asked yet", async () => {
    expect(await text("")).toMatchObject({
      status: 200,
      words: expect.stringContaining("What if something"),
    });
  });

  it("answers mistakes beside their fields, with what was typed still there", async () => {
    const ask = async (query: string) => {
      const page = await owner.get(`/plan/what-if?${query}`);
      return [page.statusCode, /id="([a-z]+)-mistake"/.exec(page.body)?.[1]];
    };
    expect(await ask("sets=30")).toEqual([422, "shape"]);
    expect(await ask("shape=ball-60")).toEqual([422, "sets"]);
    expect(await ask("damp=2027-03-02")).toEqual([422, "factor"]);
    expect(await ask("damp=2027-12-24&factor=2")).toEqual([422, "damp"]);
    expect(await ask("trays=many")).toEqual([422, "trays"]);
    expect(await ask("without=W-999")).toEqual([422, "without"]);
    expect(await ask("product=cedar-amber/ball-60&units=3")).toEqual([422, "by"]);
    expect((await text("?trays=")).words).toContain("Say what should be different.");
    expect((await owner.get("/plan/what-if?trays=many")).body).toContain('value="many"');
  });
});

describe("a what-if whose page is left", () => {
  const application = useApplication(
    // As in the server: a thread that is ended is started anew at once.
    createPlanner({ threads: 1, warm: true, worker: new URL("./heldWorker.ts", import.meta.url) }),
  );
  afterAll(() => {
    for (const file of [holdFile, heldFile]) rmSync(file, { force: true });
  });

  it("is ended in all its threads: others get theirs", async () => {
    const owner = await firstOwner(application);
    await insertTightWorkshop(application);
    const address = await application.app.listen({ host: "127.0.0.1", port: 0 });
    const heldBefore = heldSearches();
    writeFileSync(holdFile, "");
    const leave = new AbortController();
    const { signal } = leave;
    const page = fetch(`${address}/plan/what-if?trays=9`, { headers: { cookie: owner.cookie }, signal });
    const left = expect(page).rejects.toThrow();
    await expect.poll(heldSearches).toBe(heldBefore + 2);
    // Both threads are at the what-if: the search that is asked for now comes to no plan.
    await owner.get("/plan");
    await owner.post("/plans", {}, { from: "/plan", headers: { "hx-request": "true" } });
    expect((await owner.get("/plan/search")).body).toContain("Looking for a first plan");
    leave.abort();
    await left;
    await expect
      .poll(async () => (await owner.get("/plan/search")).body)
      .toContain("So far everything ships");
  });
});
