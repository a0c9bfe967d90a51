import { beforeEach, describe, expect, it } from "vitest";
import { pressed, useBench } from "../benchroom/benchRoom.ts";
import { furnishByTheClock } from "../benchroom/clockRoom.ts";
import { textOf } from "../build/pageText.ts";
import { overlapping } from "../db/overlapping.ts";
import { insertLot, insertRecipe, insertSupply } from "../supplies/storeroom.ts";

const bench = useBench();
const sheet = () => `/bench/runs/${bench.room.runId}/sheet`;
const page = async () => textOf((await bench.helper.get(sheet())).body);
const start = () => bench.helper.post(`/bench/runs/${bench.room.runId}/start`, {}, { from: "/bench" });
const tick = (bowl: number, place: number, ticked = "yes") =>
  bench.helper.post(
    `${sheet()}/ticks`,
    { bowl: String(bowl), place: String(place), ticked },
    { from: sheet() },
  );
const write = (fields: Readonly<Record<string, string | readonly string[]>>) =>
  bench.helper.post(
    sheet(),
    { version: "0", roomCelsius: "", humidityPercent: "", sprays: ["", ""], note: "", ...fields },
    { from: sheet() },
  );
const { sql } = { sql: () => bench.application.database.sql };
const ticks = async () => await sql()`select bowl, place from batch_ticks order by bowl, place`;

beforeEach(async () => {
  const { db } = bench.application.database;
  await sql()`truncate supplies, suppliers, plans, blends, shapes, customers, changes restart identity cascade`;
  Object.assign(bench.room, await furnishByTheClock(db));
  const soda = await insertSupply(db, { name: "Soda of the shore" });
  const acid = await insertSupply(db, { name: "Acid", kind: "acid" });
  await insertLot(db, { supplyId: soda, code: "SD1AA", amount: 9_000_000, expiresOn: "2027-09-01" });
  await insertLot(db, { supplyId: soda, code: "SD2AA", amount: 9_000_000, expiresOn: "2027-06-01" });
  await insertRecipe(db, bench.room.blendId, { [soda]: 666_667, [acid]: 333_333 });
});

describe("a batch sheet", () => {
  it("says what to weigh for each bowl, and from which lot: first expired first", async () => {
    // 30 balls of 118 g and 24 hearts of 60 g are 4 980 g, 2 490 a bowl: 1 660 of soda and 830 of acid.
    const words = await page();
    expect(words).toContain("Batch sheet: Cedar amber, 2 bowls of 2 490 g");
    expect(words).toMatch(/Soda of the shore lot SD2AA 1 660 g ☐ 1 ☐ 2/);
    expect(words).toMatch(/Acid lot 830 g ☐ 1 ☐ 2/);
    expect(words).toContain("Not begun yet");
  });

  it("keeps what the run was begun by: its recipe, and the lots it was booked from", async () => {
    await start();
    const { db } = bench.application.database;
    await sql()`update supplies set name = 'Shore soda' where id = 1`;
    await insertLot(db, { supplyId: 1, code: "SD3AA", amount: 9_000_000, expiresOn: "2027-04-01" });
    expect(await page()).toContain("Shore soda lot SD2AA");
    expect(await page()).toContain("Acid lot beyond the books");
  });

  it("is found from the lots made of it, while they dry as well", async () => {
    await start();
    await bench.helper.post(`/bench/lots/${bench.room.ballLot}/pressing`, pressed(30), { from: "/bench" });
    const lot = await bench.helper.get(`/shelf/${bench.room.ballLot}`);
    expect(lot.body).toContain(`href="${sheet()}"`);
    expect((await bench.helper.get(sheet())).statusCode).toBe(200);
  });

  it("shows the times of its bowls, the pieces and losses of its lots, and who was there", async () => {
    await start();
    await bench.owner.post(
      `/bench/runs/${bench.room.runId}/bowls`,
      { bowl: "1", step: "mixed" },
      { from: "/bench" },
    );
    await bench.helper.post(
      `/bench/lots/${bench.room.ballLot}/pressing`,
      pressed(31, { cracked: 2, sample: 1 }),
      { from: "/bench" },
    );
    const words = await page();
    expect(words).toContain("1 09:10 09:10 Fig Underhill");
    expect(words).toContain("BAHH Cedar amber ball 30 31 2 0 0 1");
    // Nothing is said of what is not recorded.
    expect(words).toContain("HEAR Cedar amber heart 24 Write down");
    expect(words).toContain("Who Fig Underhill and Wren Oddfellow");
  });

  it("is there without a recipe, and for no run that is not", async () => {
    await sql()`truncate recipes cascade`;
    await sql()`truncate plans, blends, shapes cascade`;
    Object.assign(bench.room, await furnishByTheClock(bench.application.database.db));
    expect(await page()).toContain("This blend has no recipe, so the sheet says no weights.");
    expect((await bench.helper.get("/bench/runs/999/sheet")).statusCode).toBe(404);
  });
});

describe("ticking off what is weighed", () => {
  it("keeps each tick by itself, with who and when, and takes it off again", async () => {
    await start();
    expect((await tick(1, 0)).headers.location).toBe(sheet());
    await tick(2, 1);
    expect(await ticks()).toEqual([
      { bowl: 1, place: 0 },
      { bowl: 2, place: 1 },
    ]);
    expect(await page()).toMatch(/Soda of the shore lot SD2AA 1 660 g ☑ 1 ☑ 1 Fig Underhill ☐ 2 ☐ 2/);
    await tick(1, 0, "no");
    expect(await ticks()).toEqual([{ bowl: 2, place: 1 }]);
    expect((await bench.changes("run", bench.room.runId)).map(({ what }) => what)).toEqual([
      "started",
      "weighed",
      "weighed",
      "not weighed",
    ]);
  });

  it("ticks once when two tap at the same moment, and says so once", async () => {
    await start();
    const taps = await overlapping(
      sql(),
      (gate) => gate`select 1 from runs where id = ${bench.room.runId} for update`,
      [() => tick(1, 0), () => tick(1, 0)],
    );
    expect(taps.map(({ statusCode }) => statusCode)).toEqual([303, 303]);
    expect(await ticks()).toHaveLength(1);
    const weighed = (await bench.changes("run", bench.room.runId)).filter(({ what }) => what === "weighed");
    expect(weighed).toHaveLength(1);
  });

  it("waits for the run's start, and knows no other bowl and no other part", async () => {
    expect((await tick(1, 0)).body).toContain("This run is not begun");
    await start();
    expect((await tick(3, 0)).statusCode).toBe(409);
    expect((await tick(1, 2)).statusCode).toBe(409);
    expect((await tick(0, 0)).statusCode).toBe(422);
    expect(await ticks()).toEqual([]);
  });

  it("goes with a start that is taken back", async () => {
    await start();
    await tick(1, 0);
    await bench.helper.post(`/bench/runs/${bench.room.runId}/put-back`, {}, { from: "/bench" });
    expect(await ticks()).toEqual([]);
    expect((await bench.changes("run", bench.room.runId)).at(-1)).toMatchObject({
      before: { ticks: [{ bowl: 1, place: 0 }] },
    });
  });
});

describe("writing on the sheet", () => {
  beforeEach(async () => {
    await start();
  });

  it("keeps room, air, sprays and what went otherwise, with what stood there before", async () => {
    await write({ roomCelsius: "20,5", humidityPercent: "62", sprays: ["6", ""], note: "Paddle squeaked" });
    await write({ version: "1", roomCelsius: "21", humidityPercent: "62", sprays: ["6", "12"] });
    const words = await page();
    expect(words).toContain("Room 21 °C Humidity 62 %");
    expect(words).toContain("1 09:10 6 Fig Underhill 2 12");
    expect((await bench.changes("run", bench.room.runId)).at(-1)).toMatchObject({
      what: "sheet written",
      before: { roomDecidegrees: 205, note: "Paddle squeaked", sprays: [{ bowl: 1, sprays: 6 }] },
      after: { roomDecidegrees: 210, note: "" },
      by: "Fig Underhill",
    });
  });

  it("begins with the air as it was read off that day", async () => {
    await sql()`insert into air_readings (on_date, at, celsius_tenths, humidity_tenths, person_id)
      values ('2027-03-01', '2027-03-01T08:00Z', 195, 614, 1), ('2027-02-28', '2027-02-28T08:00Z', 100, 900, 1)`;
    const { body } = await bench.helper.get(sheet());
    expect(body).toMatch(/id="roomCelsius"[^>]* value="19.5"/);
    expect(body).toMatch(/id="humidityPercent"[^>]* value="61"/);
    await write({});
    // What was left blank then stays blank.
    expect((await bench.helper.get(sheet())).body).not.toContain('value="19.5"');
    await sql()`truncate air_readings`;
  });

  it("refuses what was typed before somebody else wrote, and keeps it on the page", async () => {
    await write({ roomCelsius: "20" });
    const late = await write({ roomCelsius: "25", note: "Mine" });
    expect(late.statusCode).toBe(409);
    expect(textOf(late.body)).toContain("Somebody wrote on this sheet meanwhile.");
    expect(textOf(late.body)).toContain("Room 20 °C");
    expect(late.body).toContain("Mine");
    expect(late.body).toMatch(/name="version" value="1"/);
    const [kept] = await sql()`select room_decidegrees as room from batch_records`;
    expect(kept?.room).toBe(200);
  });

  it("lets one of two who write at the same moment be told", async () => {
    const answers = await overlapping(
      sql(),
      (gate) => gate`select 1 from runs where id = ${bench.room.runId} for update`,
      [() => write({ roomCelsius: "20" }), () => write({ roomCelsius: "21" })],
    );
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([303, 409]);
  });

  it("answers each mistake beside its field and changes nothing", async () => {
    const wrong = await write({ roomCelsius: "warm", humidityPercent: "101", sprays: ["6", "many"] });
    expect(wrong.statusCode).toBe(422);
    expect(wrong.body).toMatch(/id="roomCelsius-mistake">[^<]*from -20 to 60/);
    expect(wrong.body).toMatch(/id="humidityPercent-mistake">[^<]*from 0 to 100/);
    expect(wrong.body).toMatch(/id="sprays\.1-mistake"/);
    expect(wrong.body).toContain('value="warm"');
    expect(await sql()`select 1 from batch_records`).toHaveLength(0);
    expect((await write({ roomCelsius: "60", humidityPercent: "100" })).statusCode).toBe(303);
  });
});
