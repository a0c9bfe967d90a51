import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { clockMoment } from "../../server/shelf/clockMoment.ts";
import { firstOwner, useApplication } from "../build/application.ts";
import { insertProduct, insertWorkshop } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";

const application = useApplication();
let owner: Visitor;
let cedar: number;

beforeAll(async () => {
  owner = await firstOwner(application);
  // In March Lisbon's clock shows UTC; from the 28th on one hour more.
  await insertWorkshop(application.database.db, { timeZone: "Europe/Lisbon" });
});

beforeEach(async () => {
  await application.database.sql`truncate blends, shapes, changes restart identity cascade`;
  cedar = await insertProduct(application.database.db, { name: "Cedar amber ball" });
});

const enter = (kind: "ready" | "drying", fields: Record<string, string>, formToken = randomUUID()) =>
  owner.post(`/shelf/${kind}-stock`, fields, { from: `/shelf/${kind}-stock`, formToken });
const lots = async () => {
  const rows = await application.database.sql`
    select lots.*, (select units from lot_balances where lot_id = lots.id) as units from lots order by id`;
  const clock = (time: Date | null) => time?.toISOString().slice(5, 16) ?? null;
  return rows.map((row) => ({
    state: row.state as string,
    units: row.units as number,
    trays: row.trays as number,
    code: row.code as string,
    unmoldDue: clock(row.unmold_due_at),
    unmolded: clock(row.unmolded_at),
    readyDue: clock(row.ready_due_at),
    ready: clock(row.ready_at),
  }));
};

const inMolds = () => ({
  productId: String(cedar),
  units: "25",
  place: "mold",
  unmoldDate: "2027-03-28",
  unmoldTime: "09:00",
  readyDate: "2027-03-28",
  readyTime: "17:30",
});

describe("entering finished pieces", () => {
  it("makes a lot of them, ready to be packed, with its move and its change", async () => {
    const answer = await enter("ready", { productId: String(cedar), units: "48" });
    const [lot] = await lots();
    expect(answer.statusCode).toBe(303);
    expect(lot).toMatchObject({ state: "ready", units: 48, trays: 0, ready: "03-01T08:00" });
    expect(lot?.code).toMatch(/^.{4}$/);
    expect((await owner.get(answer.headers.location ?? "")).body).toContain("has 48 pieces on the shelf");
    expect(
      await application.database.sql`select what, after from changes where subject = 'lot'`,
    ).toMatchObject([{ what: "entered by hand", after: { units: 48, kind: "ready" } }]);
  });

  it("makes one lot when the form is sent twice", async () => {
    const formToken = randomUUID();
    const fields = { productId: String(cedar), units: "48" };
    const first = await enter("ready", fields, formToken);
    const again = await enter("ready", fields, formToken);
    expect(again.headers.location).toBe(first.headers.location);
    expect(await lots()).toHaveLength(1);
  });

  it("is refused for products that are not made any more, that are none, and for no pieces", async () => {
    await application.database.sql`update products set retired_at = now()`;
    const retired = await enter("ready", { productId: String(cedar), units: "4" });
    expect(retired.statusCode).toBe(422);
    expect(retired.body).toContain("Choose one from the list.");
    expect((await enter("ready", { productId: "999", units: "4" })).statusCode).toBe(422);
    expect((await enter("ready", { productId: "", units: "0" })).statusCode).toBe(422);
    expect((await enter("ready", { productId: String(cedar), units: "100001" })).statusCode).toBe(422);
    expect(await lots()).toEqual([]);
  });
});

describe("entering what is drying", () => {
  it("keeps when it may leave the mold and be packed, on the workshop's clock, and the trays it lies on", async () => {
    expect((await enter("drying", inMolds())).statusCode).toBe(303);
    // 25 pieces, 20 a tray. Summer time begins on the 28th: 09:00 is 08:00 UTC.
    expect(await lots()).toMatchObject([
      {
        state: "drying",
        units: 25,
        trays: 2,
        unmoldDue: "03-28T08:00",
        readyDue: "03-28T16:30",
        unmolded: null,
      },
    ]);
  });

  it("takes pieces that are out of their molds as resting, and asks for no unmolding time", async () => {
    const { unmoldDate: _date, unmoldTime: _time, ...rest } = inMolds();
    expect((await enter("drying", { ...rest, place: "tray" })).statusCode).toBe(303);
    expect(await lots()).toMatchObject([
      { state: "resting", unmolded: "03-01T08:00", readyDue: "03-28T16:30" },
    ]);
  });

  it("goes on from there at the bench like any other lot", async () => {
    const answer = await enter("drying", { ...inMolds(), unmoldDate: "2027-03-02", readyDate: "2027-03-02" });
    application.clock.set("2027-03-02T10:00:00Z");
    const [, lotId] = /\/shelf\/(\d+)/.exec(answer.headers.location ?? "") ?? [];
    await owner.post(
      `/bench/lots/${lotId}/unmolding`,
      { cracked: "0", stuck: "1", swollen: "0", sample: "0" },
      { from: "/bench" },
    );
    // The rest of 8 h 30 min counts from now.
    expect(await lots()).toMatchObject([{ state: "resting", units: 24, readyDue: "03-02T18:30" }]);
    application.clock.set("2027-03-01T08:00:00Z");
  });

  it("answers every mistake beside its field", async () => {
    const { place: _place, ...nowhere } = inMolds();
    expect((await enter("drying", nowhere)).body).toContain("Say where the pieces lie.");
    const wrong = await enter("drying", { ...inMolds(), unmoldDate: "2027-02-30", readyTime: "25:00" });
    expect(wrong.statusCode).toBe(422);
    expect(wrong.body).toContain("Give a date of the calendar");
    expect(wrong.body).toContain("Give a time, such as 09:30.");
    const early = await enter("drying", { ...inMolds(), readyDate: "2027-03-27" });
    expect(early.statusCode).toBe(422);
    expect(early.body).toContain("before it has left its mold");
    expect(await lots()).toEqual([]);
  });
});

describe("the workshop's clock", () => {
  // EU Directive 2000/84/EC: summer time begins on the last Sunday of March and ends on that of October, at 01:00 UTC.
  it.each([
    ["2027-03-27", 540, "2027-03-27T09:00"],
    ["2027-03-28", 540, "2027-03-28T08:00"],
    // 01:30 is leapt over: an hour later.
    ["2027-03-28", 90, "2027-03-28T01:30"],
    // 01:30 comes twice: the first, still summer time.
    ["2027-10-31", 90, "2027-10-31T00:30"],
  ])("shows %s at minute %i at %s UTC", (date, minute, instant) => {
    expect(clockMoment(date, minute, "Europe/Lisbon").toISOString().slice(0, 16)).toBe(instant);
  });
});
