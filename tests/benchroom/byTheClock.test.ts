import { randomUUID } from "node:crypto";
import { beforeEach, describe, expect, it } from "vitest";
import { textOf } from "../build/pageText.ts";
import { insertBlend, insertProduct, insertRun } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { insertRecipe, insertSupply } from "../supplies/storeroom.ts";
import { pressed, useBench } from "./benchRoom.ts";
import { furnishByTheClock } from "./clockRoom.ts";

const bench = useBench();
const page = async () => textOf((await bench.helper.get("/bench")).body);
const at = (clock: string) => bench.application.clock.set(`2027-03-${clock}:00Z`);
const tap = (address: string, fields: Record<string, string> = {}, formToken = randomUUID()) =>
  bench.helper.post(address, fields, { from: "/bench", formToken });
const start = () => tap(`/bench/runs/${bench.room.runId}/start`);
const bowl = (number: number, step: string) =>
  tap(`/bench/runs/${bench.room.runId}/bowls`, { bowl: String(number), step });
const bowlBack = (number: number, step: string) =>
  tap(`/bench/runs/${bench.room.runId}/bowls/put-back`, { bowl: String(number), step });
const turn = (turning: number) =>
  tap(`/bench/lots/${bench.room.ballLot}/turning`, { turning: String(turning) });
const turnBack = (turning: number) =>
  tap(`/bench/lots/${bench.room.ballLot}/turning/put-back`, { turning: String(turning) });
const bowls = async () => {
  const rows = await bench.application.database.sql`
    select bowl, to_char(started_at at time zone 'UTC', 'HH24:MI') as begun,
      to_char(mixed_at at time zone 'UTC', 'HH24:MI') as mixed, to_char(pressed_at at time zone 'UTC', 'HH24:MI') as pressed
    from bowls order by bowl`;
  return rows.map((row) => [row.bowl, row.begun, row.mixed, row.pressed]);
};

beforeEach(async () => {
  await bench.application.database
    .sql`truncate supplies, plans, blends, shapes, customers, changes restart identity cascade`;
  Object.assign(bench.room, await furnishByTheClock(bench.application.database.db));
});

describe("the day by the clock", () => {
  it("says what comes next and after it, to the minute", async () => {
    // A bowl has 15 balls and 12 hearts of 48 s: 21.6 min after 20 of mixing. At 09:00 the first one begins, at 09:41:36
    // the second, and at 10:23:12 the clean-down of twelve minutes.
    at("01T08:30");
    const words = await page();
    expect(words).toContain("Next 09:00 Weigh out and mix Cedar amber, bowl 1 of 2");
    expect(words).toContain("mix 09:15, press 27 pieces 09:20, until 09:41");
    expect(words).toContain("Later today 09:41 Weigh out and mix Cedar amber, bowl 2 of 2");
    expect(words).toContain("10:23 Clean down after Cedar amber until 10:35");
    expect(words).toContain("Mon 1 Mar 09:00 to 10:35");
  });

  it("puts a lighter run before a darker one, and what is begun before either", async () => {
    const { db } = bench.application.database;
    const blendId = await insertBlend(db, { code: "oat", name: "Oat", shade: 0.2 });
    const productId = await insertProduct(db, { code: "oat/ball-60", blendId, shapeId: 1 });
    const { runId } = await insertRun(db, {
      planId: bench.room.planId,
      blendId,
      bowls: 1,
      lots: [{ productId, units: 15, code: "QATS" }],
    });
    at("01T08:30");
    expect(await page()).toContain("Next 09:00 Weigh out and mix Oat");
    at("01T09:00");
    await start();
    expect(await page()).toContain("Clean down after Cedar amber until 10:35");
    expect((await page()).indexOf("10:35 Weigh out")).toBeGreaterThan(0);
    await bench.application.database.sql`update runs set state = 'withdrawn' where id = ${runId}`;
  });

  it("keeps a scent together where colours are as good as equally light, by the recipes of the day", async () => {
    const { db, sql } = bench.application.database;
    const [cedar, fog] = [
      await insertSupply(db, { name: "Cedar oil", kind: "scent" }),
      await insertSupply(db, { name: "Fog oil", kind: "scent" }),
    ];
    await sql`update blends set shade = 0.3`;
    await insertRecipe(db, bench.room.blendId, { [cedar]: 1_000_000 });
    const more = async (name: string, shade: number, oil: number) => {
      const blendId = await insertBlend(db, { code: name.toLowerCase(), name, shade });
      await insertRecipe(db, blendId, { [oil]: 1_000_000 });
      const productId = await insertProduct(db, {
        code: `${name.toLowerCase()}/ball-60`,
        blendId,
        shapeId: 1,
      });
      const lots = [{ productId, units: 15, code: name.toUpperCase() }];
      await insertRun(db, { planId: bench.room.planId, blendId, bowls: 1, lots });
    };
    await more("Fog", 0.34, fog);
    await more("Bark", 0.38, cedar);
    at("01T08:30");
    const words = await page();
    const places = ["mix Cedar amber, bowl 1", "mix Bark", "mix Fog"].map((run) => words.indexOf(run));
    expect(places).toEqual(places.toSorted((one, other) => one - other));
    expect(Math.min(...places)).toBeGreaterThan(0);
  });

  it("says what does not fit", async () => {
    await bench.application.database.sql`update plans set session_instants =
      jsonb_set(session_instants, '{0,endsAt}', '"2027-03-01T10:30:00.000Z"'),
      plan_case = jsonb_set(plan_case, '{sessions,0,handMinutes}', '90')`;
    at("01T08:30");
    expect(await page()).toContain(
      "The session from 09:00 runs over: by this timetable it ends at 10:35, 6 min late.",
    );
    expect(await page()).toContain("needs 1 h 36 min of hands for what is left, and has 1 h 30 min.");
  });

  it("shows the next date that has work where today has none left", async () => {
    await start();
    await tap(`/bench/lots/${bench.room.heartLot}/pressing`, pressed(0));
    await tap(`/bench/lots/${bench.room.ballLot}/pressing`, pressed(30));
    at("01T18:30");
    expect(await page()).toContain("Next on Tuesday 2 March 09:00");
  });

  it("does without a timetable where no plan says how long its sessions are", async () => {
    await bench.application.database.sql`update plans set session_instants = '[]', plan_case = '{}'`;
    at("01T08:30");
    const words = await page();
    expect(words).not.toContain("Next 09:00");
    expect(words).toContain("Mon 1 Mar 09:00 to 13:00");
  });
});

describe("the bowls of a run", () => {
  it("begin with the run, are mixed, pressed and followed by the next one, each with its time", async () => {
    await start();
    at("01T09:25");
    expect((await bowl(1, "mixed")).headers.location).toBe("/bench");
    at("01T09:41");
    await bowl(1, "pressed");
    at("01T09:50");
    await bowl(2, "begun");
    expect(await bowls()).toEqual([
      [1, "09:10", "09:25", "09:41"],
      [2, "09:50", null, null],
    ]);
    at("01T10:02");
    expect(await page()).toContain("Bowl 1 of 2 pressed 09:10 to 09:41");
    expect(await page()).toContain("Bowl 2 of 2 weighing and mixing for 12 min");
    expect(await bench.changes("run", bench.room.runId)).toMatchObject([
      { what: "started" },
      { what: "bowl mixed", after: { bowl: 1 }, by: "Fig Underhill" },
      { what: "bowl pressed" },
      { what: "bowl begun", after: { bowl: 2 } },
    ]);
  });

  it("go on once when two tap for the same step at the same moment", async () => {
    await start();
    const taps = await overlapping(
      bench.application.database.sql,
      (gate) => gate`select 1 from runs where id = ${bench.room.runId} for update`,
      [() => bowl(1, "mixed"), () => bowl(1, "mixed")],
    );
    expect(taps.map(({ statusCode }) => statusCode).sort()).toEqual([303, 409]);
    expect(taps.find(({ statusCode }) => statusCode === 409)?.body).toContain(
      "Bowl 1 is being pressed by now: somebody was here before. Nothing was changed.",
    );
    expect(await bowls()).toHaveLength(1);
  });

  it("keep to their order: no step before the one it follows, no bowl before the one it follows", async () => {
    await start();
    expect((await bowl(1, "pressed")).body).toContain("Bowl 1 is being mixed by now");
    expect((await bowl(2, "mixed")).body).toContain("Bowl 2 is not begun by now");
    expect((await bowl(1, "begun")).statusCode).toBe(409);
    expect((await bowl(3, "begun")).body).toContain("This run has 2 bowls.");
    expect(await bowls()).toEqual([[1, "09:10", null, null]]);
    await bench.application.database.sql`update runs set bowls = 3`;
    expect((await bowl(3, "begun")).body).toContain("Bowl 2 comes first.");
  });

  it("can be taken back step by step, the last step first", async () => {
    await start();
    await bowl(1, "mixed");
    await bowl(2, "begun");
    expect((await bowlBack(1, "begun")).statusCode).toBe(409);
    await bowlBack(1, "mixed");
    expect((await bowlBack(1, "mixed")).statusCode).toBe(409);
    // The second bowl hangs on the first.
    expect((await bowlBack(1, "begun")).statusCode).toBe(409);
    await bowlBack(2, "begun");
    expect(await bowls()).toEqual([[1, "09:10", null, null]]);
  });

  it("go with a start that is taken back, and are written down in its history", async () => {
    await start();
    await bowl(1, "mixed");
    await tap(`/bench/runs/${bench.room.runId}/put-back`);
    expect(await bowls()).toEqual([]);
    expect((await bench.changes("run", bench.room.runId)).at(-1)).toMatchObject({
      what: "put back",
      before: { bowls: [{ bowl: 1 }] },
    });
    expect((await start()).statusCode).toBe(303);
  });

  it("need a run in the bowl, and a step that is one", async () => {
    expect((await bowl(1, "mixed")).body).toContain("This run is not in the bowl now.");
    await start();
    expect((await bowl(1, "shaken")).statusCode).toBe(422);
    expect((await bowl(0, "mixed")).statusCode).toBe(422);
    const elsewhere = await tap("/bench/runs/999/bowls", { bowl: "1", step: "mixed" });
    expect(elsewhere.statusCode).toBe(404);
  });

  it("never have times that run backwards, whoever writes them", async () => {
    await start();
    const { sql } = bench.application.database;
    await expect(sql`update bowls set mixed_at = started_at - interval '1 minute'`).rejects.toThrow(
      "bowls_times_in_order",
    );
    await expect(sql`update bowls set pressed_at = started_at`).rejects.toThrow("bowls_pressed_after_mixing");
    // A server whose clock is a minute behind notes the step no sooner than the one it follows.
    at("01T09:09");
    await bowl(1, "mixed");
    expect(await bowls()).toEqual([[1, "09:10", "09:10", null]]);
  });
});

describe("turning what dries", () => {
  beforeEach(async () => {
    await start();
    await tap(`/bench/lots/${bench.room.ballLot}/pressing`, pressed(30));
  });

  it("is asked for from the shop's first hour on, and again after so many more", async () => {
    at("01T13:39");
    expect(await page()).not.toContain("To turn now");
    expect(await page()).toContain("To turn at 13:40.");
    at("01T13:40");
    expect(await page()).toContain("To turn now");
    at("01T14:05");
    expect(await page()).toContain("25 min ago");
    expect((await turn(1)).headers.location).toBe("/bench");
    expect(await page()).not.toContain("To turn now");
    expect(await page()).toContain("Turned Mon 1 Mar 14:05, again at 17:05.");
    at("01T17:05");
    expect(await page()).toContain("To turn now");
  });

  it("follows the hours of the setup, on pages that are open too", async () => {
    await bench.application.database.sql`update workshop set first_turn_minutes = 60`;
    at("01T10:10");
    expect(await page()).toContain("To turn now");
    await bench.application.database.sql`update workshop set first_turn_minutes = 270`;
  });

  it("is over once the pieces may leave their molds", async () => {
    at("02T01:09");
    expect(await page()).toContain("To turn now");
    at("02T01:10");
    expect(await page()).not.toContain("To turn now");
    expect(await page()).toContain("To unmold now");
  });

  it("happens once when two tap for the same turning at the same moment", async () => {
    at("01T13:45");
    const taps = await overlapping(
      bench.application.database.sql,
      (gate) => gate`select 1 from lots where id = ${bench.room.ballLot} for update`,
      [() => turn(1), () => turn(1)],
    );
    expect(taps.map(({ statusCode }) => statusCode).sort()).toEqual([303, 409]);
    expect(taps.find(({ statusCode }) => statusCode === 409)?.body).toContain(
      "Lot BAHH was turned last at 13:45. Nothing was changed.",
    );
    const rows = await bench.application.database.sql`select turning from turnings`;
    expect(rows).toHaveLength(1);
  });

  it("can be taken back, the last one only", async () => {
    at("01T13:45");
    await turn(1);
    expect((await turnBack(2)).statusCode).toBe(409);
    expect((await turnBack(1)).statusCode).toBe(303);
    expect((await turnBack(1)).body).toContain("Lot BAHH is not turned yet.");
    expect(await page()).toContain("To turn now");
    expect(await bench.changes("lot", bench.room.ballLot)).toMatchObject([
      { what: "pressed" },
      { what: "turned", after: { turning: 1 } },
      { what: "not turned" },
    ]);
  });

  it("needs a lot that lies in its molds", async () => {
    expect((await tap(`/bench/lots/${bench.room.heartLot}/turning`, { turning: "1" })).statusCode).toBe(409);
    expect((await tap("/bench/lots/999/turning", { turning: "1" })).statusCode).toBe(404);
    expect((await tap(`/bench/lots/${bench.room.ballLot}/turning`, { turning: "soon" })).statusCode).toBe(
      422,
    );
  });
});
