import { randomUUID } from "node:crypto";
import { beforeEach, describe, expect, it } from "vitest";
import { overlapping } from "../db/overlapping.ts";
import { pressed, useBench } from "./benchRoom.ts";

const bench = useBench();
const press = (lotId: number, fields: Record<string, string>, formToken = randomUUID()) =>
  bench.helper.post(`/bench/lots/${lotId}/pressing`, fields, { from: "/bench", formToken });

beforeEach(async () => {
  await bench.helper.post(`/bench/runs/${bench.room.runId}/start`, {}, { from: "/bench" });
  bench.application.clock.set("2027-03-01T12:40:00Z");
});

describe("recording what was pressed", () => {
  it("brings the pieces into being, and takes off what was lost, each cause by a move of its own", async () => {
    const answer = await press(bench.room.ballLot, pressed(32, { cracked: 2, stuck: 1 }));
    expect([answer.statusCode, answer.headers.location]).toEqual([303, "/bench"]);
    expect(await bench.ledger(bench.room.ballLot)).toEqual([
      "made 32 by Fig Underhill",
      "lost -2 cracked by Fig Underhill",
      "lost -1 stuck by Fig Underhill",
    ]);
    expect((await bench.lot(bench.room.ballLot)).units).toBe(29);
    expect(await bench.changes("lot", bench.room.ballLot)).toMatchObject([
      { what: "pressed", by: "Fig Underhill", after: { state: "drying", pressed: 32 } },
    ]);
  });

  it("lays them on as many trays as they need", async () => {
    // 24 hearts, 12 a tray: two trays; 25 need a third.
    await press(bench.room.heartLot, pressed(24));
    expect((await bench.lot(bench.room.heartLot)).trays).toBe(2);
    // 41 balls, one lost at once, 20 a tray: two trays.
    await press(bench.room.ballLot, pressed(41, { stuck: 1 }));
    expect((await bench.lot(bench.room.ballLot)).trays).toBe(2);
  });

  it("counts drying and rest from now", async () => {
    await press(bench.room.ballLot, pressed(30));
    // 12:40 + 16 h = 04:40 on the 2nd; + 8 h = 12:40.
    expect(await bench.lot(bench.room.ballLot)).toMatchObject({
      state: "drying",
      formed: "01T12:40",
      unmoldDue: "02T04:40",
      readyDue: "02T12:40",
      unmolded: null,
      ready: null,
    });
  });

  it("counts longer in damp air, by the factor of the day the plan was made for", async () => {
    await bench.application.database.sql`update runs set drying_factor = 1.5`;
    await press(bench.room.ballLot, pressed(30));
    // 12:40 + 24 h, + 12 h.
    expect(await bench.lot(bench.room.ballLot)).toMatchObject({
      unmoldDue: "02T12:40",
      readyDue: "03T00:40",
    });
  });

  it("forms the run with the last of its lots", async () => {
    await press(bench.room.ballLot, pressed(30));
    expect(await bench.run(bench.room.runId)).toMatchObject({ state: "mixing", formed: false });
    await press(bench.room.heartLot, pressed(24));
    expect(await bench.run(bench.room.runId)).toMatchObject({ state: "formed", formed: true });
  });

  it("withdraws a lot of which nothing was pressed", async () => {
    await press(bench.room.ballLot, pressed(0));
    expect(await bench.lot(bench.room.ballLot)).toMatchObject({ state: "withdrawn", formed: null, units: 0 });
    expect(await bench.ledger(bench.room.ballLot)).toEqual([]);
    await press(bench.room.heartLot, pressed(0));
    expect(await bench.run(bench.room.runId)).toMatchObject({ state: "formed" });
  });

  it("takes a batch of which every piece was lost", async () => {
    await press(bench.room.ballLot, pressed(30, { swollen: 30 }));
    expect(await bench.lot(bench.room.ballLot)).toMatchObject({ state: "drying", units: 0, trays: 0 });
    expect((await bench.helper.get("/bench")).body).not.toContain("leave their molds");
  });

  it("records once when the form is sent twice", async () => {
    const formToken = randomUUID();
    await press(bench.room.ballLot, pressed(30), formToken);
    expect((await press(bench.room.ballLot, pressed(30), formToken)).statusCode).toBe(303);
    expect((await bench.lot(bench.room.ballLot)).units).toBe(30);
  });

  it("lets one of two win who record the same lot at the same moment", async () => {
    const records = await overlapping(
      bench.application.database.sql,
      (gate) => gate`select 1 from lots where id = ${bench.room.ballLot} for update`,
      [() => press(bench.room.ballLot, pressed(30)), () => press(bench.room.ballLot, pressed(28))],
    );
    expect(records.map((answer) => answer.statusCode).sort()).toEqual([303, 409]);
    expect(await bench.ledger(bench.room.ballLot)).toHaveLength(1);
  });

  it("forms the run exactly once when its two lots are recorded at the same moment", async () => {
    const records = await overlapping(
      bench.application.database.sql,
      // What both write after their own lot and before they look at the other's.
      (gate) => gate`lock table changes in share row exclusive mode`,
      [() => press(bench.room.ballLot, pressed(30)), () => press(bench.room.heartLot, pressed(24))],
    );
    expect(records.map((answer) => answer.statusCode)).toEqual([303, 303]);
    expect(await bench.run(bench.room.runId)).toMatchObject({ state: "formed" });
    const formed = (await bench.changes("run", bench.room.runId)).filter(({ what }) => what === "formed");
    expect(formed).toHaveLength(1);
  });
});

describe("what can't have been pressed", () => {
  it("is answered beside its field with everything as it was typed, and changes nothing", async () => {
    const answer = await press(bench.room.ballLot, { ...pressed(30), cracked: "two", stuck: "" });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("Give a whole number from 0 to 100\u202f000.");
    expect(answer.body).toContain("Fill this in.");
    expect(answer.body).toContain('value="two"');
    expect((await bench.lot(bench.room.ballLot)).state).toBe("mixing");
  });

  it("is refused past the stated limit", async () => {
    expect((await press(bench.room.ballLot, pressed(100_001))).statusCode).toBe(422);
    expect((await press(bench.room.ballLot, pressed(100_000))).statusCode).toBe(303);
  });

  it("is refused when more is lost than was pressed", async () => {
    const answer = await press(bench.room.ballLot, pressed(2, { cracked: 1, stuck: 1, swollen: 1 }));
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("No more can be lost than there is: 2 pieces.");
    expect(await bench.ledger(bench.room.ballLot)).toEqual([]);
  });

  it("is refused for a lot that is recorded already, that has not begun, and that is none", async () => {
    await press(bench.room.ballLot, pressed(30));
    const again = await press(bench.room.ballLot, pressed(30));
    expect(again.statusCode).toBe(409);
    expect(again.body).toContain("Lot BAHH is drying by now");
    expect((await press(999, pressed(30))).statusCode).toBe(404);
    await bench.application.database.sql`update lots set state = 'planned' where id = ${bench.room.heartLot}`;
    expect((await press(bench.room.heartLot, pressed(24))).statusCode).toBe(409);
  });
});

describe("past the commands", () => {
  it("the tables refuse pieces of a lot that has not begun or was withdrawn", async () => {
    for (const state of ["planned", "withdrawn"]) {
      await bench.application.database.sql`update lots set state = ${state} where id = ${bench.room.ballLot}`;
      await expect(
        bench.application.database.sql`insert into moves (lot_id, kind, units, at)
          values (${bench.room.ballLot}, 'made', 30, now())`,
      ).rejects.toThrow("a lot that has not been started has no pieces");
    }
  });

  it("the tables refuse a drying lot without its times, and a formed run without its time", async () => {
    await expect(
      bench.application.database.sql`update lots set state = 'drying' where id = ${bench.room.ballLot}`,
    ).rejects.toThrow("lots_formed_has_its_time");
    await expect(
      bench.application.database.sql`update runs set state = 'formed' where id = ${bench.room.runId}`,
    ).rejects.toThrow("runs_formed_has_its_time");
  });
});
