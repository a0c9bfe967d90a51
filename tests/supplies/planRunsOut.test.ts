import { beforeAll, describe, expect, it } from "vitest";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { firstOwner, useApplication } from "../build/application.ts";
import { textOf } from "../build/pageText.ts";
import type { Visitor } from "../build/visitor.ts";

const application = useApplication(createPlanner({ searchSeconds: 0.2, holdUpSeconds: 0.05 }));
const { database } = application;
let owner: Visitor;

beforeAll(async () => {
  owner = await firstOwner(application);
  await owner.post("/welcome/sample", {}, { from: "/welcome/workshop" });
  await owner.post("/plans", {}, { from: "/plan" });
});

interface Case {
  readonly products: readonly { readonly id: string; readonly shape: string }[];
  readonly shapes: readonly { readonly id: string; readonly grams: number }[];
  readonly sessions: readonly { readonly date: string }[];
}

interface Answer {
  readonly runs: readonly {
    readonly blend: string;
    readonly pieces: readonly { readonly product: string; readonly units: number }[];
  }[];
}

const plan = async () => textOf((await owner.get("/plans/1")).body);

describe("a plan that waits to be accepted", () => {
  it("says what it runs out of, for which run and when, beside the button and without holding it up", async () => {
    const text = await plan();
    expect(text).toMatch(
      /It runs out of [\w ,]+ on \w+day \d+ \w+.*short: first for (the run of|packing) .*What to buy, and by when Accept this plan/,
    );
    // What the page says of acid, recounted from the plan as it was kept.
    const [kept] = await database.sql<
      { plan_case: Case; answer: Answer }[]
    >`select plan_case, answer from plans`;
    if (!kept) throw new Error("The plan was not kept");
    const { products, shapes, sessions } = kept.plan_case;
    const grams = (product: string) =>
      shapes.find(({ id }) => id === products.find((one) => one.id === product)?.shape)?.grams ?? 0;
    const [acid] = await database.sql`select id from supplies where name = 'Citric acid, fine'`;
    const parts = await database.sql`select blends.code, milligrams_per_kilogram as part from recipe_parts
      join recipes on recipes.id = recipe_id join blends on blends.id = blend_id where supply_id = ${acid?.id}`;
    const shareOf = new Map(parts.map(({ code, part }) => [code as string, Number(part)]));
    const needed = kept.answer.runs.reduce(
      (sum, run) =>
        sum +
        run.pieces.reduce((mix, { product, units }) => mix + units * grams(product), 0) *
          ((shareOf.get(run.blend) ?? 0) / 1_000_000),
      0,
    );
    const lots =
      await database.sql`select amount::float8 as amount, expires_on::text as good from supply_lot_balances
      join supply_lots on supply_lots.id = lot_id where supply_lots.supply_id = ${acid?.id}`;
    const there = lots.reduce((sum, { amount }) => sum + amount / 1000, 0);
    const last = sessions.at(-1)?.date ?? "";
    // The older lot is good beyond the plan, or the recount would have to look at days.
    expect(lots.every(({ good }) => good > last)).toBe(true);
    const said = /Citric acid, fine, ([\d. ]+) (k?g) short/.exec(text);
    expect(said).not.toBeNull();
    const short = said ? Number(said[1]?.replaceAll(" ", "")) * (said[2] === "kg" ? 1000 : 1) : 0;
    expect(short).toBeCloseTo(Math.max(0, needed - there), 0);
  });

  it("says that supplies last once there is enough, and is accepted either way", async () => {
    await database.sql`insert into supply_moves (supply_id, lot_id, kind, amount, at)
      select supply_id, max(id), 'counted', 90000000, now() from supply_lots
        where expires_on is null or expires_on > '2027-04-01' group by supply_id`;
    expect(await plan()).toContain("Supplies last for all of it, with what is on its way.");
    const accepted = await owner.post("/plans/1/acceptance", {}, { from: "/plans/1" });
    expect(accepted.statusCode).toBe(303);
    expect(await plan()).toContain("Supplies last for all of it");
  });
});
