import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { firstOwner, useApplication } from "../build/application.ts";
import { textOf } from "../build/pageText.ts";
import { insertOrder } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { accept, insertTightWorkshop, planNow, type TightWorkshop } from "./tightWorkshop.ts";

/* Monday 1 March 2027, 08:00. W-104 wants 36 on Tuesday, 12 are on the shelf: 24 are pressed on Monday morning. */
const application = useApplication();
let owner: Visitor;
let workshop: TightWorkshop;

beforeAll(async () => {
  owner = await firstOwner(application);
});

beforeEach(async () => {
  const { sql } = application.database;
  await sql`truncate workshop, shapes, blends, products, customers, orders, order_lines, week_sessions,
    calendar_exceptions, plans, runs, lots, moves, changes, form_receipts restart identity cascade`;
  application.clock.set("2027-03-01T08:00:00Z");
  workshop = await insertTightWorkshop(application);
});

/** What stands on a plan's page under "What moves". */
async function moves(planId: number): Promise<string> {
  const { body } = await owner.get(`/plans/${planId}`);
  return textOf(/<h2 id="moves">.*?<\/section>/s.exec(body)?.[0] ?? "nothing");
}

const another = (reference: string, shipBy: string, units: number) =>
  insertOrder(application.database.db, {
    ...{ reference, shipBy, customerId: workshop.customerId },
    lines: [{ productId: workshop.productId, units }],
  });

describe("a plan that would take the place of another", () => {
  it("says what moves, orders first, and is taken as a whole", async () => {
    const first = await planNow(owner);
    expect(await moves(first)).toBe("nothing");
    await accept(owner, first);
    await another("W-105", "2027-03-04", 20);
    const second = await planNow(owner);
    const told = await moves(second);
    expect(told).toMatch(
      /Against plan 1, which is followed now: one order is new and one session is mixed otherwise\./,
    );
    expect(told).toContain("Nothing is begun that could move.");
    expect(told).toMatch(/W-105 The Lamplit Otter .* not there yet .* (safe|tight)/);
    expect(told).not.toMatch(/W-104/);
    expect(told).toMatch(/cedar-amber .*(not mixed .*\d+ × cedar-amber|24 × cedar-amber ball-60 44 ×)/);
    await accept(owner, second);
    expect(await moves(second)).toBe("nothing");
    expect(await moves(first)).toBe("nothing");
  });

  it("names an order that fares worse before all others", async () => {
    await accept(owner, await planNow(owner));
    // Half of the molds break: W-104 can no longer be pressed on Monday morning alone.
    await application.database.sql`update shapes set mold_sets = 8`;
    const told = await moves(await planNow(owner));
    expect(told).toMatch(/Against plan 1, which is followed now: W-104 fares worse/);
    expect(told).toMatch(/W-104 The Lamplit Otter Tue 2 Mar Tue 2 Mar tight (\w+ \d+ Mar )?late by \d days?/);
  });

  it("leaves alone what is begun: it stands on neither side", async () => {
    await accept(owner, await planNow(owner));
    await owner.post("/bench/runs/1/start", {}, { from: "/bench" });
    await another("W-105", "2027-03-04", 20);
    const told = await moves(await planNow(owner));
    expect(told).toContain("What is begun stays: 1 lot in bowls, molds and on trays.");
    expect(told).not.toContain("24 ×");
    expect(told).toMatch(/not mixed 20 × cedar-amber/);
  });

  it("says so when nothing moves", async () => {
    await accept(owner, await planNow(owner));
    expect(await moves(await planNow(owner))).toBe(
      "What moves Against plan 1, which is followed now: no order fares otherwise, and every session stays as it is. Nothing is begun that could move.",
    );
  });
});
