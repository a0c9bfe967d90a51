import { randomUUID } from "node:crypto";
import { describe, expect, it } from "vitest";
import { insertPlan, insertRun } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { pressed, useBench } from "./benchRoom.ts";

const bench = useBench();
const start = (visitor = bench.helper, runId = bench.room.runId, formToken = randomUUID()) =>
  visitor.post(`/bench/runs/${runId}/start`, {}, { from: "/bench", formToken });
const putBack = () => bench.helper.post(`/bench/runs/${bench.room.runId}/put-back`, {}, { from: "/bench" });

describe("starting a run", () => {
  it("puts the run and its lots into the bowl and says who did it", async () => {
    const answer = await start();
    expect([answer.statusCode, answer.headers.location]).toEqual([303, "/bench"]);
    expect(await bench.run(bench.room.runId)).toMatchObject({ state: "mixing", started: true });
    expect((await bench.lot(bench.room.ballLot)).state).toBe("mixing");
    expect((await bench.lot(bench.room.heartLot)).state).toBe("mixing");
    expect(await bench.changes("run", bench.room.runId)).toMatchObject([
      { what: "started", by: "Fig Underhill", before: { state: "planned" }, after: { state: "mixing" } },
    ]);
    expect((await bench.owner.get("/bench")).body).toContain("by Fig Underhill");
  });

  it("starts once when the form is sent twice", async () => {
    const formToken = randomUUID();
    await start(bench.helper, bench.room.runId, formToken);
    const again = await start(bench.helper, bench.room.runId, formToken);
    expect(again.statusCode).toBe(303);
    expect(await bench.changes("run", bench.room.runId)).toHaveLength(1);
  });

  it("tells the second of two people who started it, at what time, and changes nothing", async () => {
    await start();
    bench.application.clock.set("2027-03-01T09:30:00Z");
    const second = await start(bench.owner);
    expect(second.statusCode).toBe(409);
    expect(second.body).toContain("Fig Underhill started this run at 09:10 already.");
    expect(await bench.changes("run", bench.room.runId)).toHaveLength(1);
  });

  it("lets one of two win who tap at the same moment", async () => {
    const taps = await overlapping(
      bench.application.database.sql,
      (gate) => gate`select 1 from runs where id = ${bench.room.runId} for update`,
      [() => start(), () => start(bench.owner)],
    );
    expect(taps.map((answer) => answer.statusCode).sort()).toEqual([303, 409]);
    expect(await bench.changes("run", bench.room.runId)).toHaveLength(1);
  });

  it("refuses a run of a plan that is only proposed, or no longer followed", async () => {
    for (const state of ["proposed", "superseded"] as const) {
      const planId = await insertPlan(bench.application.database.db, { personId: 1, state });
      const { runId } = await insertRun(bench.application.database.db, {
        planId,
        blendId: bench.room.blendId,
        sessionStartsAt: new Date(`2027-03-0${state === "proposed" ? 2 : 3}T09:00:00Z`),
        sessionEndsAt: new Date("2027-03-04T13:00:00Z"),
        lots: [{ productId: bench.room.ball, units: 10, code: state === "proposed" ? "PRPS" : "SPRS" }],
      });
      const answer = await start(bench.helper, runId);
      expect(answer.statusCode).toBe(409);
      expect(answer.body).toContain("not in the plan the workshop follows now");
      expect(await bench.run(runId)).toMatchObject({ state: "planned" });
    }
  });

  it("refuses a run that a newer plan withdrew", async () => {
    await bench.application.database.sql`update lots set state = 'withdrawn'`;
    await bench.application.database.sql`update runs set state = 'withdrawn'`;
    expect((await start()).statusCode).toBe(409);
  });

  it("knows no other run", async () => {
    expect((await start(bench.helper, 999)).statusCode).toBe(404);
    expect((await bench.helper.post("/bench/runs/none/start", {}, { from: "/bench" })).statusCode).toBe(404);
  });

  it("is not for strangers", async () => {
    const answer = await bench.application.stranger().post(`/bench/runs/${bench.room.runId}/start`, {});
    expect(answer.headers.location).toContain("/sign-in");
    expect(await bench.run(bench.room.runId)).toMatchObject({ state: "planned" });
  });
});

describe("taking a start back", () => {
  it("puts run and lots back into the plan while nothing is pressed", async () => {
    await start();
    expect((await putBack()).statusCode).toBe(303);
    expect(await bench.run(bench.room.runId)).toMatchObject({ state: "planned", started: false });
    expect((await bench.lot(bench.room.ballLot)).state).toBe("planned");
    expect((await start()).statusCode).toBe(303);
  });

  it("is refused once something is pressed, and for a run that never started", async () => {
    expect((await putBack()).statusCode).toBe(409);
    await start();
    await bench.helper.post(`/bench/lots/${bench.room.ballLot}/pressing`, pressed(30), { from: "/bench" });
    const answer = await putBack();
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("Some of this run is pressed already");
    expect(await bench.run(bench.room.runId)).toMatchObject({ state: "mixing" });
  });

  it("is refused when a newer plan is followed by now", async () => {
    await start();
    await bench.application.database.sql`update plans set state = 'superseded'`;
    const answer = await putBack();
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("A newer plan already counts on this run.");
  });

  it("waits for a plan that is just being accepted", async () => {
    await start();
    const [back] = await overlapping(
      bench.application.database.sql,
      async (gate) => {
        await gate`lock table plans in share row exclusive mode`;
        await gate`update plans set state = 'superseded'`;
      },
      [() => putBack()],
    );
    expect(back?.body).toContain("A newer plan already counts on this run.");
  });
});
