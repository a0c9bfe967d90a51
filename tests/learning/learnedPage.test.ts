import { beforeEach, describe, expect, it } from "vitest";
import { firstOwner, newHelper, useApplication } from "../build/application.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import {
  insertBlend,
  insertCustomer,
  insertOrder,
  insertPlan,
  insertProduct,
  insertShape,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { planNow } from "../plans/tightWorkshop.ts";
import { insertBatch } from "./batches.ts";

/* Monday 1 March 2027. A bowl takes 20 hand minutes to mix, pressing a ball 48 seconds by the plan's figure. */
const application = useApplication();
let owner: Visitor;
const ids = { shapeId: 0, cedar: 0, cedarBall: 0, oat: 0, oatBall: 0, planId: 0 };

beforeEach(async () => {
  const { db, sql } = application.database;
  await sql`truncate people, rate_counts, bowls, workshop, week_sessions, customers, orders, shapes, blends, products, lots, plans, runs, moves,
    changes, form_receipts restart identity cascade`;
  owner = await firstOwner(application);
  await insertWorkshop(db, { minBowlMilligrams: 0 });
  await insertWorkingWeek(db);
  ids.shapeId = await insertShape(db, { name: "Ball" });
  ids.cedar = await insertBlend(db, { code: "cedar", name: "Cedar" });
  ids.oat = await insertBlend(db, { code: "oat", name: "Oat" });
  const { shapeId } = ids;
  ids.cedarBall = await insertProduct(db, {
    ...{ code: "cedar/ball-60", name: "Cedar ball" },
    shapeId,
    blendId: ids.cedar,
  });
  ids.oatBall = await insertProduct(db, {
    ...{ code: "oat/ball-60", name: "Oat ball" },
    shapeId,
    blendId: ids.oat,
  });
  ids.planId = await insertPlan(db, { personId: 1, state: "superseded" });
});

type Batch = Omit<Parameters<typeof insertBatch>[1], "planId" | "blendId" | "productId">;
const batch = (given: Batch) =>
  insertBatch(application.database, {
    ...{ planId: ids.planId, blendId: ids.cedar, productId: ids.cedarBall },
    ...given,
  });
const february = (day: number) => `2027-02-${String(day).padStart(2, "0")}`;

const page = async () => (await owner.get("/setup/learned")).body;
/** What stands about one figure, and what its field holds. */
async function figure(place: string) {
  const row = new RegExp(`<li id="${place}".*?</form>`, "s").exec(await page())?.[0] ?? "";
  return { text: textOf(row), field: /<input id="[^"]+" name="[^"]+" value="([^"]*)"/.exec(row)?.[1] };
}
const losses = () => figure(`losses-${ids.cedarBall}`);
const pressing = () => figure(`pressing-${ids.shapeId}`);
const take = (place: string, fields: Record<string, string>) =>
  owner.post(`/setup/learned/${place}`, fields, { from: "/setup/learned" });

describe("what is lost", () => {
  it("is told with what it rests on, and put forward from three batches on", async () => {
    for (const day of [1, 2]) await batch({ day: february(day), pressed: 40, lost: { cracked: 2 } });
    expect(headingOf(await page())).toBe("Batches come out as the plan counts on.");
    expect((await losses()).text).toMatch(/^Cedar ball 5 % lost.*2 batches, 80 pieces/);
    expect((await losses()).field).toBe("0");
    await batch({ day: february(3), pressed: 40, lost: { stuck: 1, sample: 1 } });
    const told = await losses();
    expect(told.text).toMatch(
      /^Cedar ball 5 % lost, nine times in ten 2\.6 to 9\.4 %; 3 batches, 120 pieces\./,
    );
    expect(told.text).toContain("The plan expects 0 %. So far 4 cracked, 1 stuck and 1 kept as sample.");
    expect(told.field).toBe("5");
    expect(headingOf(await page())).toBe("One figure of the plan is not what batches say.");
  });

  it("counts no batch that is not ready yet, and nothing that was lost on the shelf later", async () => {
    const { sql } = application.database;
    const lotId = await batch({ day: february(1), pressed: 40 });
    await sql`insert into moves (lot_id, kind, units, cause, at) values (${lotId}, 'lost', -4, 'cracked', '2027-02-20T09:00Z')`;
    await batch({ day: february(2), pressed: 40, lost: { cracked: 40 }, isReady: false });
    expect((await losses()).text).toMatch(/^Cedar ball 0 % lost.*1 batch, 40 pieces/);
  });

  it("changes nothing until it is taken over; then the next plan makes enough for it", async () => {
    const { db, sql } = application.database;
    const customerId = await insertCustomer(db);
    await insertOrder(db, {
      customerId,
      shipBy: "2027-03-05",
      lines: [{ productId: ids.cedarBall, units: 30 }],
    });
    for (const day of [1, 2, 3]) await batch({ day: february(day), pressed: 40, lost: { cracked: 4 } });
    // What the batches left on the shelf is sold.
    await sql`insert into moves (lot_id, kind, units, note, at)
      select lot_id, 'counted', -sum(units), 'sold', now() from moves group by lot_id`;
    const made = async () => {
      const planId = await planNow(owner);
      const [row] =
        await sql`select answer -> 'runs' -> 0 -> 'pieces' -> 0 ->> 'units' as units from plans where id = ${planId}`;
      return Number(row?.units);
    };
    expect(await made()).toBe(30);
    const taken = await take(`losses/${ids.cedarBall}`, { loss: "10" });
    expect(taken.headers.location).toBe(`/setup/learned#losses-${ids.cedarBall}`);
    // 34 are pressed, of which 30.6 are good.
    expect(await made()).toBe(34);
    const [entry] =
      await sql`select before, after from changes where subject = 'product' order by id desc limit 1`;
    expect(entry).toMatchObject({
      before: { lossBasisPoints: 0 },
      after: { lossBasisPoints: 1000, learned: { batches: 3, pressed: 120, lost: 12 } },
    });
    expect((await losses()).text).toContain("The plan expects 10 %.");
  });

  it("is answered beside its field where it can't be", async () => {
    await batch({ day: february(1), pressed: 40 });
    const answer = await take(`losses/${ids.cedarBall}`, { loss: "51" });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toMatch(/value="51"[^>]*aria-invalid="true"/);
    expect(textOf(answer.body)).toContain("Give a percentage from 0 to 50 % with at most 2 decimals.");
    expect((await take("losses/999", { loss: "5" })).statusCode).toBe(404);
    const [row] = await application.database
      .sql`select loss_basis_points from products where id = ${ids.cedarBall}`;
    expect(row?.loss_basis_points).toBe(0);
  });
});

describe("how long pressing takes", () => {
  it("is the clock from start to pressing less the mixing, blend by blend and for the shape", async () => {
    // 20 minutes to mix a bowl; the rest for 40 pieces: 40 minutes are 60 s a piece.
    for (const day of [1, 2, 3]) await batch({ day: february(day), pressed: 40, minutes: 60 });
    expect((await pressing()).text).toMatch(
      /^Ball 60 s a piece, nine times in ten 60 to 60 s; 3 runs\. The plan counts 48 s/,
    );
    expect((await pressing()).field).toBe("60");
    for (const day of [4, 5])
      await batch({
        day: february(day),
        ...{ pressed: 40, minutes: 40, blendId: ids.oat, productId: ids.oatBall },
      } as Batch);
    expect((await pressing()).text).toMatch(/Cedar: 60 s a piece.*3 runs.*Oat: 30 s a piece.*2 runs/);
  });

  it("counts the hands there are: two pairs take twice the minutes of the clock", async () => {
    const { sql } = application.database;
    await sql`update plans set plan_case = ${sql.json({ sessions: [{ handMinutes: 480 }] })},
      session_instants = ${sql.json([{ startsAt: "2027-02-01T09:00:00Z", endsAt: "2027-02-01T13:00:00Z" }])}`;
    await batch({ day: february(1), pressed: 40, minutes: 30 });
    // 30 x 2 - 20 = 40 minutes again; on the other day nothing is known of the session, so one pair: 60 - 20.
    await batch({ day: february(2), pressed: 40, minutes: 60 });
    expect((await pressing()).text).toMatch(/^Ball 60 s a piece, nine times in ten 60 to 60 s/);
  });

  it("is the time between the taps where every bowl was tapped, and none was mixed while another was pressed", async () => {
    const { sql } = application.database;
    const runOf = async (day: number, bowls: number) => {
      const lotId = await batch({ day: february(day), pressed: 40, minutes: 90, bowls });
      const [lot] = await sql`select run_id from lots where id = ${lotId}`;
      return Number(lot?.run_id);
    };
    const tap = (run: number, bowl: number, day: number, ...[begun, mixed, pressed]: readonly string[]) => {
      const at = (time?: string) => `${february(day)}T${time}:00Z`;
      return sql`insert into bowls (run_id, bowl, started_at, mixed_at, pressed_at)
        values (${run}, ${bowl}, ${at(begun)}, ${at(mixed)}, ${at(pressed)})`;
    };
    // 12 and 8 minutes for 40 pieces: 30 s each. By the whole run it would be 90 - 40 minutes, 75 s.
    for (const day of [1, 2]) {
      const run = await runOf(day, 2);
      await tap(run, 1, day, "09:00", "09:20", "09:32");
      await tap(run, 2, day, "09:40", "10:00", "10:08");
    }
    expect((await pressing()).text).toMatch(/^Ball 30 s a piece, nine times in ten 30 to 30 s/);
    // The second bowl was mixed while the first was pressed: whose minutes those were nobody knows.
    await sql`update bowls set started_at = mixed_at - interval '35 minutes' where bowl = 2`;
    expect((await pressing()).text).toMatch(/^Ball 75 s a piece/);
    await sql`delete from bowls where bowl = 2`;
    expect((await pressing()).text).toMatch(/^Ball 75 s a piece/);
  });

  it("leaves out runs that stood on the bench together, and those whose clock tells something else", async () => {
    await batch({ day: february(1), pressed: 40, minutes: 60 });
    await batch({ day: february(2), pressed: 40, minutes: 60 });
    // Begun while the other was pressed; and one that was written down a day later.
    await batch({ day: february(3), pressed: 40, minutes: 90 });
    await batch({ day: february(3), pressed: 40, minutes: 90, startedAt: "10:00", bowls: 2 });
    await batch({ day: february(8), pressed: 10, minutes: 1500 });
    expect((await pressing()).text).toContain("60 s a piece");
    expect(textOf(await page())).toContain(
      "3 runs left out: two at once, or a start or an end written down later.",
    );
  });

  it("counts in the next plan once it is taken over", async () => {
    for (const day of [1, 2, 3]) await batch({ day: february(day), pressed: 40, minutes: 60 });
    await take(`pressing/${ids.shapeId}`, { formSeconds: "60" });
    expect((await pressing()).text).toContain("The plan counts 60 s.");
    const [entry] = await application.database.sql`
      select before, after from changes where subject = 'shape' order by id desc limit 1`;
    expect(entry).toMatchObject({
      before: { formSeconds: 48 },
      after: { formSeconds: 60, learned: { batches: 3 } },
    });
    expect((await take("pressing/999", { formSeconds: "5" })).statusCode).toBe(404);
    expect((await take(`pressing/${ids.shapeId}`, { formSeconds: "soon" })).statusCode).toBe(422);
  });
});

describe("before the first batch", () => {
  it("nothing is put forward, but a maker's own figure can be given", async () => {
    expect(headingOf(await page())).toBe("No batch has taught anything yet.");
    expect((await losses()).text).toContain("No batch is ready yet.");
    await take(`losses/${ids.cedarBall}`, { loss: "2.5" });
    expect((await losses()).field).toBe("2.5");
  });

  it("is the owner's", async () => {
    const helper = await newHelper(application, owner);
    expect((await helper.get("/setup/learned")).statusCode).toBe(403);
  });
});
