import { beforeAll, describe, expect, it } from "vitest";
import { firstOwner, newHelper, useApplication } from "../build/application.ts";
import {
  insertBlend,
  insertCustomer,
  insertDryingLot,
  insertOrder,
  insertPlan,
  insertProduct,
  insertReadyLot,
  insertRun,
  insertShape,
  insertWorkshop,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";

const application = useApplication();
let owner: Visitor;
let cedar: number;
let customerId: number;

beforeAll(async () => {
  owner = await firstOwner(application);
  const { db } = application.database;
  await insertWorkshop(db);
  const blendId = await insertBlend(db, { name: "Cedar amber" });
  cedar = await insertProduct(db, { blendId, shapeId: await insertShape(db, { name: "Ball" }) });
  customerId = await insertCustomer(db);
});

const headline = async () => /<h1>(.*?)<\/h1>/.exec((await owner.get("/roll-up")).body)?.[1];

describe("the roll-up page", () => {
  it("begins with nothing", async () => {
    expect(await headline()).toBe("Nothing on order is left to pack.");
  });

  it("adds up what is confirmed and not packed, and where it comes from", async () => {
    const { db, sql } = application.database;
    const readyLot = await insertReadyLot(db, { productId: cedar, units: 20 });
    await insertDryingLot(db, { productId: cedar, units: 12 });
    const { lineIds } = await insertOrder(db, {
      customerId,
      reference: "W-1",
      state: "packing",
      lines: [{ productId: cedar, units: 50 }],
    });
    await sql`insert into moves (lot_id, kind, units, order_line_id, at) values (${readyLot}, 'packed', -5, ${lineIds[0] ?? 0}, now())`;
    const wanted = { customerId, lines: [{ productId: cedar, units: 100 }] };
    await insertOrder(db, { ...wanted, reference: "W-2", state: "draft", confirmedAt: null });
    await insertOrder(db, { ...wanted, reference: "W-3", state: "cancelled", cancelledAt: new Date() });
    await insertOrder(db, { ...wanted, reference: "W-4", state: "packed", packedAt: new Date() });
    // 50 less 5 packed; 15 left on the shelf; the draft, the cancelled and the packed order count for nothing.
    expect(await headline()).toBe("45 on order = 15 on the shelf + 12 drying + 18 to make.");
    expect((await owner.get("/roll-up")).body).toContain(
      "Making them takes at least 1 bowl, 2.124 kg of mix. None of them is in a plan yet.",
    );
  });

  it("counts what the followed plan makes, and what is in the bowl, but not what is pressed or withdrawn", async () => {
    const { db, sql } = application.database;
    const planId = await insertPlan(db, { personId: 1 });
    const { runId, lotIds } = await insertRun(db, {
      planId,
      blendId: 1,
      lots: [{ productId: cedar, units: 10, code: "PLAN" }],
    });
    const page = async () => (await owner.get("/roll-up")).body;
    expect(await page()).toContain("The plan makes 10 of them; 8 are in no plan yet.");
    await sql`update runs set state = 'mixing', started_at = now() where id = ${runId}`;
    await sql`update lots set state = 'mixing' where id = ${lotIds[0] ?? 0}`;
    await sql`update plans set state = 'superseded'`;
    expect(await page()).toContain("The plan makes 10 of them; 8 are in no plan yet.");
    await sql`update lots set state = 'withdrawn' where id = ${lotIds[0] ?? 0}`;
    expect(await page()).toContain("None of them is in a plan yet.");
  });

  it("is for the owner", async () => {
    const helper = await newHelper(application, owner);
    expect((await helper.get("/roll-up")).statusCode).toBe(403);
    expect((await application.stranger().get("/roll-up")).headers.location).toContain("/sign-in");
  });
});
