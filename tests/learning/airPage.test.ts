import { beforeEach, describe, expect, it } from "vitest";
import { firstOwner, newHelper, useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import {
  insertBlend,
  insertDryingLot,
  insertPlan,
  insertProduct,
  insertShape,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { insertBatch } from "./batches.ts";

/* Monday 1 March 2027, 08:00. A ball stays in its mold for 16 hours. */
const application = useApplication();
let owner: Visitor;
let productId: number;
let blendId: number;

beforeEach(async () => {
  const { db, sql } = application.database;
  await sql`truncate people, rate_counts, workshop, week_sessions, calendar_exceptions, shapes, blends, products, lots, plans, runs, moves,
    air_readings, damp_looks, changes, form_receipts restart identity cascade`;
  application.clock.set("2027-03-01T08:00:00Z");
  owner = await firstOwner(application);
  await insertWorkshop(db);
  await insertWorkingWeek(db);
  blendId = await insertBlend(db, { code: "cedar" });
  productId = await insertProduct(db, { code: "cedar/ball-60", blendId, shapeId: await insertShape(db) });
});

const page = async (visitor = owner) => (await visitor.get("/bench/air")).body;
const air = (celsius: string, humidity: string) => ({ celsius, humidity });
const read = (celsius: string, humidity: string, visitor = owner) =>
  visitor.post("/bench/air", air(celsius, humidity), { from: "/bench/air" });
const setReference = (celsius: string, humidity: string) =>
  owner.post("/bench/air/reference", air(celsius, humidity), { from: "/bench/air" });
const planWith = (dryingFactor: string) =>
  owner.post("/bench/air/factor", { dryingFactor }, { from: "/bench/air" });
const damp = async () =>
  [
    ...(await application.database.sql`select on_date::text, drying_factor, note from calendar_exceptions`),
  ].map((row) => [row.on_date, Number(row.drying_factor), row.note.replaceAll(/\s/g, " ")]);

describe("the air", () => {
  it("suggests how long drying takes once it is known what for, with formula and source", async () => {
    expect(headingOf(await page())).toBe("What is the air like today?");
    await read("20", "70");
    expect(headingOf(await page())).toBe("Which air are your drying times for?");
    await setReference("20", "50");
    const told = textOf(await page());
    expect(headingOf(await page())).toBe(
      "Today's air suggests drying 1.65 times as long as usual; planned is 1.",
    );
    expect(told).toContain("Reference day's vapour deficit / today's: 1.17 kPa / 0.70 kPa ≈ 1.65");
    expect(told).toContain("Hyland and Wexler (ASHRAE Handbook of Fundamentals 2017, chapter 1)");
    expect(told).toContain("No lot has told yet");
    expect(await damp()).toEqual([]);
  });

  it("changes the plan only when the owner takes it over, and then the day is damp once", async () => {
    await setReference("20", "50");
    await read("20", "70");
    await planWith("1.65");
    expect(await damp()).toEqual([["2027-03-01", 1.65, "20 °C, 70 % relative humidity"]]);
    expect(headingOf(await page())).toBe(
      "Today's air suggests drying 1.65 times as long as usual, and so it is planned.",
    );
    await read("20", "80");
    await planWith("2.5");
    expect(await damp()).toEqual([["2027-03-01", 2.5, "20 °C, 80 % relative humidity"]]);
    const entries = await application.database.sql`
      select what, before, after from changes where subject = 'calendar exception' order by id`;
    expect(entries.map(({ what }) => what)).toEqual(["added", "changed"]);
  });

  it("of yesterday suggests nothing for today", async () => {
    await setReference("20", "50");
    await read("20", "70");
    application.clock.set("2027-03-02T08:00:00Z");
    expect(headingOf(await page())).toBe("What is the air like today?");
  });

  it("says where it is too damp to mix", async () => {
    await read("25", "74.9");
    expect(await page()).not.toContain("citric acid takes up water");
    await read("25", "75");
    expect(await page()).toContain("citric acid takes up water");
  });

  it("is answered beside its fields where it can't be", async () => {
    const answer = await read("51", "0");
    expect(answer.statusCode).toBe(422);
    expect(textOf(answer.body)).toContain("Give a number from 0 to 50 with at most 1 decimals.");
    expect(textOf(answer.body)).toContain("Give a number from 0.1 to 100 with at most 1 decimals.");
    expect((await setReference("20", "100")).statusCode).toBe(422);
    expect((await planWith("11")).statusCode).toBe(422);
    const [rows] = await application.database.sql`select count(*)::integer as count from air_readings`;
    expect(rows?.count).toBe(0);
  });

  it("is read off by helpers too, who take nothing into the plan", async () => {
    const helper = await newHelper(application, owner);
    await setReference("20", "50");
    expect((await read("20", "70", helper)).statusCode).toBe(303);
    const told = await page(helper);
    expect(headingOf(told)).toMatch(/^Today's air suggests/);
    expect(told).not.toContain("/bench/air/factor");
    expect(
      (await helper.post("/bench/air/factor", { dryingFactor: "2" }, { from: "/bench/air" })).statusCode,
    ).toBe(403);
    expect(
      (await helper.post("/bench/air/reference", air("20", "50"), { from: "/bench/air" })).statusCode,
    ).toBe(403);
  });
});

describe("what drying really took", () => {
  it("corrects the suggestion by lots that were pressed on days with a reading", async () => {
    const { database } = application;
    const planId = await insertPlan(database.db, { personId: 1, state: "superseded" });
    await setReference("20", "50");
    // Ten days like the reference day, on each of which a lot was damp after 20 hours and dry after 24: 1.25 to 1.5 of 16.
    for (let day = 1; day <= 10; day += 1) {
      const onDate = `2027-02-${String(day).padStart(2, "0")}`;
      application.clock.set(`${onDate}T08:00:00Z`);
      await read("20", "50");
      const lotId = await insertBatch(database, { planId, blendId, productId, day: onDate, pressed: 40 });
      await database.sql`insert into damp_looks (lot_id, at, person_id)
        select id, formed_at + interval '20 hours', 1 from lots where id = ${lotId}`;
    }
    // One without a reading tells nothing.
    await insertBatch(database, { planId, blendId, productId, day: "2027-02-20", pressed: 40 });
    application.clock.set("2027-03-01T08:00:00Z");
    await read("20", "50");
    const told = textOf(await page());
    expect(told).toMatch(
      /Drying here took 1\.3\d times as long as the formula says, .*; 10 lots, 10 of them found damp at a look\./,
    );
    expect(told).toMatch(/1\.17 kPa \/ 1\.17 kPa × 1\.3\d ≈ 1\.(3|35|4) /);
  });
});

describe("a lot that is still damp", () => {
  const look = (lotId: number, hours: string) =>
    owner.post(`/bench/lots/${lotId}/still-damp`, { hours }, { from: "/bench/air" });
  const due = async (lotId: number) => {
    const [row] = await application.database
      .sql`select unmold_due_at, ready_due_at from lots where id = ${lotId}`;
    return [row?.unmold_due_at, row?.ready_due_at].map((moment: Date) => moment.toISOString().slice(5, 16));
  };

  it("stays in its molds and is due again later, its rest with it", async () => {
    const { db, sql } = application.database;
    const lotId = await insertDryingLot(db, {
      productId,
      units: 12,
      readyDueAt: new Date("2027-03-01T07:30:00Z"),
    });
    await sql`update lots set ready_due_at = '2027-03-01T15:30:00Z' where id = ${lotId}`;
    const answer = await look(lotId, "4");
    expect(answer.headers.location).toBe("/bench");
    expect(await due(lotId)).toEqual(["03-01T12:00", "03-01T20:00"]);
    const [row] = await sql`select lot_id, at, person_id from damp_looks`;
    expect(row).toEqual({ lot_id: lotId, at: new Date("2027-03-01T08:00:00Z"), person_id: 1 });
  });

  it("is not due sooner by a look that came early", async () => {
    const lotId = await insertDryingLot(application.database.db, {
      ...{ productId, units: 12, readyDueAt: new Date("2027-03-02T07:00:00Z") },
    });
    await look(lotId, "1");
    expect(await due(lotId)).toEqual(["03-02T07:00", "03-02T07:00"]);
  });

  it("is written down once, and not of one that has left its molds", async () => {
    const { db, sql } = application.database;
    const lotId = await insertDryingLot(db, {
      productId,
      units: 12,
      readyDueAt: new Date("2027-03-01T07:30:00Z"),
    });
    expect((await look(lotId, "3")).headers.location).toBe(`/bench/lots/${lotId}/unmolding`);
    await sql`update lots set state = 'resting', unmolded_at = now() where id = ${lotId}`;
    expect((await look(lotId, "1")).headers.location).toBe(`/shelf/${lotId}`);
    expect((await look(999, "1")).statusCode).toBe(404);
    const [rows] = await sql`select count(*)::integer as count from damp_looks`;
    expect(rows?.count).toBe(0);
  });
});
