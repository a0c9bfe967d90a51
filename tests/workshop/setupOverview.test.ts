import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import { insertCustomer, insertProduct, insertShape, insertWorkingWeek } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { helperOf, ownerInSetup } from "./setupRoom.ts";

const application = useApplication();
let owner: Visitor;
beforeAll(async () => {
  owner = await ownerInSetup(application);
});

const sentence = async () => /<h1>([^<]*)<\/h1>/.exec((await owner.get("/setup")).body)?.[1];

describe("the overview of the setup", () => {
  it("names everything that is missing before the workshop can plan", async () => {
    expect(await sentence()).toBe(
      "The workshop cannot plan yet: no shapes, no sessions, no blends, no products and no customers.",
    );
  });

  it("counts a shape whose product has no mold, and sessions too short to mix a bowl, as missing", async () => {
    const { db, sql } = application.database;
    await insertCustomer(db);
    const shapeId = await insertShape(db, { moldSets: 0 });
    await insertProduct(db, { shapeId });
    await sql`insert into week_sessions (weekday, starts_minute, ends_minute, hand_minutes, mixing)
      values (7, 600, 629, 20, true), (7, 700, 800, 20, false)`;
    expect(await sentence()).toBe(
      "The workshop cannot plan yet: no session long enough to mix a bowl and no mold set for any product.",
    );
    await sql`update week_sessions set ends_minute = 630 where starts_minute = 600`;
    expect(await sentence()).toBe("The workshop cannot plan yet: no mold set for any product.");
    await sql`update shapes set mold_sets = 1`;
    expect(await sentence()).toBe(
      "The workshop can plan: 1 product, and 40 min of handwork in an ordinary week.",
    );
  });

  it("does not count what is retired", async () => {
    const { sql } = application.database;
    await sql`update customers set retired_at = now()`;
    expect(await sentence()).toBe("The workshop cannot plan yet: no customers.");
    await sql`update customers set retired_at = null`;
  });

  it("gives each room its facts", async () => {
    await insertWorkingWeek(application.database.db);
    const page = await owner.get("/setup");
    expect(page.body).toContain("1 shape, 1 mold set");
    expect(page.body).toContain("12 sessions a week, no exception ahead");
    expect(page.body).toContain("1 mixer, bowls up to 2.6 kg, 8 trays, time of UTC");
    expect(page.body).toContain("1 shop, 0 markets");
  });
});

describe("a helper", () => {
  it("neither sees nor changes anything of the setup", async () => {
    const helper = await helperOf(application, owner);
    const pages = [
      "",
      "/workshop",
      "/shapes",
      "/shapes/new",
      "/sessions",
      "/blends",
      "/products",
      "/customers",
    ];
    for (const page of pages) {
      expect([page, (await helper.get(`/setup${page}`)).statusCode]).toEqual([page, 403]);
    }
    const forms = [
      "/setup/workshop",
      "/setup/shapes",
      "/setup/shapes/1",
      "/setup/shapes/1/retirement",
      "/setup/sessions",
      "/setup/sessions/1/removal",
      "/setup/sessions/day-off",
      "/setup/sessions/extra",
      "/setup/sessions/damp",
      "/setup/sessions/exceptions/1/removal",
      "/setup/blends",
      "/setup/blends/1",
      "/setup/products",
      "/setup/products/1/retirement",
      "/setup/customers",
      "/setup/customers/1",
      "/setup/customers/1/retirement",
      "/welcome/workshop",
    ];
    for (const form of forms) {
      expect([form, (await helper.post(form, {})).statusCode]).toEqual([form, 403]);
    }
  });

  it("is not told what a customer's page holds, even with the right address", async () => {
    const [customer] = await application.database.sql`select id from customers`;
    const stranger = application.stranger();
    expect((await stranger.get(`/setup/customers/${customer?.id}`)).headers.location).toContain("/sign-in");
  });
});
