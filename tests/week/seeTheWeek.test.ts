import { beforeAll, describe, expect, it } from "vitest";
import { firstOwner, signedIn, useApplication } from "../build/application.ts";
import { headingOf } from "../build/pageText.ts";
import {
  insertContact,
  insertCustomer,
  insertDryingLot,
  insertOrder,
  insertProduct,
  insertReadyLot,
  insertShape,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";

/* The clock stands at Monday 1 March 2027, 08:00 UTC; the workshop's clock in Kolkata says 13:30. */
const application = useApplication();
const helper = { name: "Fig Underhill", email: "fig@halfmold.example", password: "black tea and oat" };
let owner: Visitor;
let fig: Visitor;
let ball: number;
let heart: number;
let customerId: number;

beforeAll(async () => {
  owner = await firstOwner(application);
  await insertWorkshop(application.database.db, { timeZone: "Asia/Kolkata" });
  await owner.post("/setup/people", helper, { from: "/setup/people" });
  fig = await signedIn(application, helper);
});

async function sentence(visitor: Visitor): Promise<string> {
  const page = await visitor.get("/week");
  expect(page.statusCode).toBe(200);
  return headingOf(page.body);
}

describe("a workshop that begins", () => {
  it("is told step by step what is missing", async () => {
    const { db } = application.database;
    expect(await sentence(owner)).toBe("A new workshop. Say first what you make.");
    const shapeId = await insertShape(db, { code: "heart-70" });
    ball = await insertProduct(db, { code: "oat/ball-60" });
    heart = await insertProduct(db, { code: "cedar/heart-70", shapeId });
    expect(await sentence(owner)).toBe("Say when you work, and the week can be planned.");
    await insertWorkingWeek(db);
    expect(await sentence(owner)).toBe("No orders yet. Take the first one.");
    customerId = await insertCustomer(db, { notes: "private notes" });
    await insertContact(db, {
      customerId,
      name: "",
      email: "private@otter.example",
      phone: "private phone",
    });
    await insertOrder(db, { customerId, lines: [{ productId: ball, units: 36 }] });
    expect(await sentence(owner)).toBe("W-104 waits for a plan.");
  });

  it("asks nothing of a helper that only the owner can do", async () => {
    const page = await fig.get("/week");
    expect(page.body).toContain("The owner has something to prepare first.");
    expect(page.body).not.toContain('href="/plan"');
  });
});

describe("a workshop at work", () => {
  beforeAll(async () => {
    const { db, sql } = application.database;
    await insertOrder(db, {
      customerId,
      reference: "W-99",
      shipBy: "2027-02-28",
      lines: [{ productId: ball, units: 12 }],
    });
    await insertOrder(db, {
      customerId,
      reference: "W-100",
      shipBy: "2027-03-01",
      lines: [{ productId: heart, units: 6 }],
    });
    await insertReadyLot(db, { productId: heart, units: 6 });
    await insertDryingLot(db, { productId: ball, units: 12, readyDueAt: new Date("2027-03-01T08:00:00Z") });
    const answer = {
      orders: [
        { id: "W-99", readyOn: "2027-03-03", daysLate: 3, unitsShort: 0 },
        { id: "W-100", readyOn: "2027-03-01", daysLate: 0, unitsShort: 0 },
        { id: "W-104", readyOn: "2027-03-07", daysLate: 2, unitsShort: 0 },
      ],
    };
    await sql`insert into plans (state, plan_case, answer, hold_ups, session_instants, seed, engine_version,
      as_of_change, planned_at, planned_by, accepted_at, accepted_by)
      select 'accepted', '{}', ${sql.json(answer)}, '{}', '[]', 1, '1', 0, now(), id, now(), id from people where role = 'owner'`;
    await sql`insert into runs (plan_id, blend_id, session_date, session_starts_at, session_ends_at, bowls, drying_factor, state)
      select plans.id, blends.id, '2027-03-01', '2027-03-01T09:00Z', '2027-03-01T12:00Z', 2, 1, 'planned'
      from plans, blends where blends.code = 'oat'`;
  });

  it("says on the workshop's own clock what is late, what leaves and what to do", async () => {
    expect(await sentence(owner)).toBe(
      "W-99 should have left on Sunday 28 February; W-100 leaves today; W-104 will be late by two days.",
    );
    const page = await owner.get("/week");
    // 09:00 UTC on a clock five and a half hours ahead.
    expect(page.body).toMatch(/oat<\/strong> 14:30/);
    expect(page.body).toContain("ready on Sun 7 Mar, two days after Fri 5 Mar");
    expect(page.body).toContain("may leave the mold");
    expect(page.body).toContain(">pack it</a>");
  });

  it("leads each thing to the place that settles it", async () => {
    const page = await owner.get("/week");
    const [order] = await application.database.sql`select id from orders where reference = 'W-100'`;
    for (const href of [`/packing/${order?.id}`, `/orders/${order?.id}`, "/plan", "/bench"]) {
      expect(page.body).toContain(`href="${href}"`);
    }
  });

  it("shows a helper the work, but neither the owner's places nor what customers keep private", async () => {
    const page = await fig.get("/week");
    expect(page.body).toContain("The Lamplit Otter");
    expect(page.body).not.toMatch(/href="\/(orders|plan|setup|roll-up)/);
    expect(page.body).not.toMatch(/private@otter|private phone/);
  });

  it("forgets what has left", async () => {
    const { sql } = application.database;
    await sql`update orders set state = 'shipped', packed_at = now(), shipped_at = now() where reference in ('W-99', 'W-104')`;
    expect(await sentence(owner)).toBe(
      "W-100 leaves today; mix oat at 14:30; 12 pieces may leave their molds.",
    );
  });
});
