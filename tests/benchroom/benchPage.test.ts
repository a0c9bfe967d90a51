import { describe, expect, it } from "vitest";
import { insertPlan, insertRun } from "../build/rows.ts";
import { lost, pressed, useBench } from "./benchRoom.ts";

const bench = useBench();
const page = async () => (await bench.helper.get("/bench")).body;
const headline = async () => /<h1>(.*?)<\/h1>/.exec(await page())?.[1];
const at = (clock: string) => bench.application.clock.set(`2027-03-${clock}:00Z`);
const start = () => bench.helper.post(`/bench/runs/${bench.room.runId}/start`, {}, { from: "/bench" });
const press = (lotId: number, units: number) =>
  bench.helper.post(`/bench/lots/${lotId}/pressing`, pressed(units), { from: "/bench" });

describe("the bench", () => {
  it("says what to do through the whole way of a run", async () => {
    at("01T08:00");
    expect(await headline()).toBe("Next to mix is Cedar amber today at 09:00.");
    at("01T09:10");
    expect(await headline()).toBe("Mix Cedar amber now: 2 bowls, 54 pieces.");
    await start();
    expect(await headline()).toBe("Press Cedar amber now: 54 pieces.");
    await press(bench.room.heartLot, 24);
    expect(await headline()).toBe(
      "Press Cedar amber now: 30 pieces; the next pieces leave their molds today at 19:10.",
    );
    await press(bench.room.ballLot, 30);
    // Pressed at 09:10: turned from 13:40 on. Hearts that dry in ten hours may leave their molds at 19:10.
    at("01T13:40");
    expect(await headline()).toBe("54 pieces are to be turned.");
    at("01T19:10");
    expect(await headline()).toBe("30 pieces are to be turned and 24 pieces can leave their molds.");
    await bench.helper.post(`/bench/lots/${bench.room.heartLot}/unmolding`, lost({ stuck: 1 }), {
      from: "/bench",
    });
    at("02T01:10");
    expect(await headline()).toBe("30 pieces can leave their molds and 23 pieces have rested long enough.");
  });

  it("has nothing to say when nothing waits", async () => {
    await bench.application.database.sql`truncate plans cascade`;
    expect(await headline()).toBe("Nothing waits at the bench.");
  });

  it("says how much mix there is in all and a bowl, and what each lot is called", async () => {
    // 30 balls of 118 g and 24 hearts of 60 g: 4.98 kg, 2.49 kg a bowl.
    const body = await page();
    expect(body).toContain("2 bowls, 4.98 kg of mix, 2.49 kg a bowl");
    expect(body).toContain("BAHH");
    expect(body).toContain("30 × Ball");
  });

  it("shows a run of a session that is over as one to catch up with", async () => {
    at("01T13:00");
    expect(await page()).toContain("session is over");
    expect(await headline()).toBe("Mix Cedar amber now: 2 bowls, 54 pieces.");
  });

  it("keeps a run that is in the bowl when a newer plan is followed, and lets go of what was not begun", async () => {
    await start();
    const { db, sql } = bench.application.database;
    await sql`update plans set state = 'superseded'`;
    expect(await headline()).toBe("Press Cedar amber now: 54 pieces.");
    await sql`update runs set state = 'planned', started_at = null`;
    expect(await headline()).toBe("Nothing waits at the bench.");
    const planId = await insertPlan(db, { personId: 1, state: "proposed" });
    await insertRun(db, {
      planId,
      blendId: bench.room.blendId,
      sessionStartsAt: new Date("2027-03-01T08:00:00Z"),
      lots: [{ productId: bench.room.ball, units: 5, code: "PRPS" }],
    });
    expect(await headline()).toBe("Nothing waits at the bench.");
  });

  it("answers a tap with the page's main part alone when htmx asks for it", async () => {
    const answer = await bench.helper.get("/bench", { "hx-request": "true" });
    expect(answer.body).not.toContain("<html");
    expect(answer.body).toContain("Start mixing");
  });

  it("reminds of dust, fire and gas, and defers to local rules", async () => {
    const body = await page();
    for (const words of [
      "dust mask",
      "no flame",
      "airtight",
      "Local rules and qualified advice come first",
    ]) {
      expect(body).toContain(words);
    }
  });

  it("asks early for the tick only when it is early, and leads elsewhere when the step is done", async () => {
    await start();
    await press(bench.room.ballLot, 30);
    const address = `/bench/lots/${bench.room.ballLot}/unmolding`;
    expect((await bench.helper.get(address)).body).toContain("feltDry");
    at("03T09:00");
    expect((await bench.helper.get(address)).body).not.toContain("feltDry");
    const done = await bench.helper.get(`/bench/lots/${bench.room.ballLot}/pressing`);
    expect(done.headers.location).toBe(`/shelf/${bench.room.ballLot}`);
    expect((await bench.helper.get("/bench/lots/999/pressing")).statusCode).toBe(404);
  });

  it("is not for strangers", async () => {
    expect((await bench.application.stranger().get("/bench")).headers.location).toContain("/sign-in");
  });
});
