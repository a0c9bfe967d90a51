import { randomUUID } from "node:crypto";
import { beforeEach, describe, expect, it } from "vitest";
import { insertCustomer, insertOrder } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { lost, pressed, useBench } from "./benchRoom.ts";

const bench = useBench();
const unmold = (fields: Record<string, string>, formToken = randomUUID()) =>
  bench.helper.post(`/bench/lots/${bench.room.ballLot}/unmolding`, fields, { from: "/bench", formToken });
const ready = (fields: Record<string, string>) =>
  bench.helper.post(`/bench/lots/${bench.room.ballLot}/readiness`, fields, { from: "/bench" });
const putBack = (state: string) =>
  bench.helper.post(`/bench/lots/${bench.room.ballLot}/put-back`, { state }, { from: "/bench" });

// Pressed on Monday at 12:00: out of the molds from Tuesday 04:00, to be packed from Tuesday 12:00.
beforeEach(async () => {
  await bench.helper.post(`/bench/runs/${bench.room.runId}/start`, {}, { from: "/bench" });
  bench.application.clock.set("2027-03-01T12:00:00Z");
  await bench.helper.post(`/bench/lots/${bench.room.ballLot}/pressing`, pressed(30), { from: "/bench" });
});

describe("unmolding", () => {
  it("lets the pieces rest from when they really left the molds", async () => {
    bench.application.clock.set("2027-03-02T09:00:00Z");
    expect((await unmold(lost({ stuck: 2 }))).headers.location).toBe("/bench");
    // 09:00 + 8 h of rest.
    expect(await bench.lot(bench.room.ballLot)).toMatchObject({
      state: "resting",
      units: 28,
      unmolded: "02T09:00",
      readyDue: "02T17:00",
    });
    expect(await bench.ledger(bench.room.ballLot)).toEqual([
      "made 30 by Fig Underhill",
      "lost -2 stuck by Fig Underhill",
    ]);
    expect(await bench.changes("lot", bench.room.ballLot)).toMatchObject([
      { what: "pressed" },
      { what: "unmolded", before: { units: 30 }, after: { units: 28, feltDry: false } },
    ]);
  });

  it("is taken at the very minute it is due, and a minute earlier only from somebody who felt that it is dry", async () => {
    bench.application.clock.set("2027-03-02T03:59:00Z");
    const early = await unmold(lost());
    expect(early.statusCode).toBe(409);
    expect(early.body).toContain("It should wait until Tue 2 Mar 04:00.");
    expect((await bench.lot(bench.room.ballLot)).state).toBe("drying");
    expect((await unmold({ ...lost(), feltDry: "yes" })).statusCode).toBe(303);
    expect((await bench.lot(bench.room.ballLot)).readyDue).toBe("02T11:59");

    await putBack("resting");
    bench.application.clock.set("2027-03-02T04:00:00Z");
    expect((await unmold(lost())).statusCode).toBe(303);
  });

  it("keeps the longer rest of a damp day", async () => {
    await bench.application.database
      .sql`update lots set ready_due_at = unmold_due_at + interval '12 hours' where id = ${bench.room.ballLot}`;
    bench.application.clock.set("2027-03-02T06:00:00Z");
    await unmold(lost());
    expect((await bench.lot(bench.room.ballLot)).readyDue).toBe("02T18:00");
  });

  it("refuses to lose more than there is, and says how many there are", async () => {
    bench.application.clock.set("2027-03-02T06:00:00Z");
    const answer = await unmold(lost({ cracked: 20, swollen: 11 }));
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("No more can be lost than there is: 30 pieces.");
    expect((await bench.lot(bench.room.ballLot)).units).toBe(30);
  });

  it("happens once when the form is sent twice, and once when two tap at the same moment", async () => {
    bench.application.clock.set("2027-03-02T06:00:00Z");
    const formToken = randomUUID();
    const taps = await overlapping(
      bench.application.database.sql,
      (gate) => gate`select 1 from lots where id = ${bench.room.ballLot} for update`,
      [() => unmold(lost({ cracked: 1 }), formToken), () => unmold(lost({ cracked: 1 }))],
    );
    const answers = taps.map((answer) => answer.statusCode);
    expect([...answers].sort()).toEqual([303, 409]);
    expect((await unmold(lost({ cracked: 1 }), formToken)).statusCode).toBe(answers[0]);
    expect((await bench.lot(bench.room.ballLot)).units).toBe(29);
  });
});

describe("being ready", () => {
  beforeEach(async () => {
    bench.application.clock.set("2027-03-02T09:00:00Z");
    await unmold(lost());
  });

  it("puts the pieces on the shelf", async () => {
    bench.application.clock.set("2027-03-02T17:00:00Z");
    expect((await ready(lost({ sample: 1 }))).statusCode).toBe(303);
    expect(await bench.lot(bench.room.ballLot)).toMatchObject({
      state: "ready",
      units: 29,
      ready: "02T17:00",
    });
    expect((await bench.helper.get("/bench")).body).toContain("Ready today");
  });

  it("before its time needs somebody who felt that it is dry", async () => {
    bench.application.clock.set("2027-03-02T16:59:00Z");
    expect((await ready(lost())).body).toContain("It should wait until Tue 2 Mar 17:00.");
    expect((await ready({ ...lost(), feltDry: "yes" })).statusCode).toBe(303);
  });

  it("does not come before unmolding, nor twice", async () => {
    await putBack("resting");
    const answer = await ready({ ...lost(), feltDry: "yes" });
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("Lot BAHH is drying by now");
  });
});

describe("taking a step back", () => {
  it("gives a lot its former times again", async () => {
    const before = await bench.lot(bench.room.ballLot);
    bench.application.clock.set("2027-03-02T09:00:00Z");
    await unmold(lost());
    const resting = await bench.lot(bench.room.ballLot);
    await ready({ ...lost(), feltDry: "yes" });
    expect((await putBack("ready")).statusCode).toBe(303);
    expect(await bench.lot(bench.room.ballLot)).toEqual(resting);
    await putBack("resting");
    expect(await bench.lot(bench.room.ballLot)).toEqual(before);
  });

  it("is refused once pieces are packed, and when the lot is somewhere else by now", async () => {
    await unmold({ ...lost(), feltDry: "yes" });
    await ready({ ...lost(), feltDry: "yes" });
    expect((await putBack("resting")).statusCode).toBe(409);
    const customerId = await insertCustomer(bench.application.database.db);
    const { lineIds } = await insertOrder(bench.application.database.db, {
      customerId,
      lines: [{ productId: bench.room.ball, units: 12 }],
    });
    await bench.application.database.sql`insert into moves (lot_id, kind, units, order_line_id, at)
      values (${bench.room.ballLot}, 'packed', -5, ${lineIds[0] ?? 0}, now())`;
    const answer = await putBack("ready");
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("Some of this lot is packed already");
    expect((await putBack("planned")).statusCode).toBe(422);
  });
});

describe("past the commands", () => {
  it("the tables refuse a state without its time, and a time without its state", async () => {
    const { sql } = bench.application.database;
    await expect(sql`update lots set state = 'resting' where id = ${bench.room.ballLot}`).rejects.toThrow(
      "lots_unmolded_has_its_time",
    );
    await expect(sql`update lots set ready_at = now() where id = ${bench.room.ballLot}`).rejects.toThrow(
      "lots_ready_has_its_time",
    );
  });
});
