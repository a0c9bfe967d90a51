import { randomUUID } from "node:crypto";
import ICAL from "ical.js";
import { beforeEach, describe, expect, it } from "vitest";
import { writeCalendar } from "../../server/calendar/writeCalendar.ts";
import { pressed, useBench } from "../benchroom/benchRoom.ts";
import { furnishByTheClock } from "../benchroom/clockRoom.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { insertCustomer, insertOrder } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";

const bench = useBench();
const PAGE = "/setup/calendar";
const make = (formToken = randomUUID()) => bench.owner.post(PAGE, {}, { from: PAGE, formToken });
const addressIn = (body: string) =>
  />http:\/\/[^/]+(\/calendar\/[\w-]{43})<\/textarea>/.exec(body)?.[1] ?? "";
const open = async () => addressIn((await make()).body);
const ask = (address: string) => bench.application.stranger().get(address);
const at = (clock: string) => bench.application.clock.set(`2027-03-${clock}:00Z`);

/** The events as an independent library reads them: what, when, and under which UID. */
async function events(address: string) {
  const answer = await ask(address);
  expect([answer.statusCode, answer.headers["content-type"]]).toEqual([200, "text/calendar; charset=utf-8"]);
  const calendar = new ICAL.Component(ICAL.parse(answer.body));
  return calendar.getAllSubcomponents("vevent").map((component) => {
    const event = new ICAL.Event(component);
    return {
      uid: event.uid,
      what: event.summary,
      about: event.description,
      starts: event.startDate.toString(),
      ends: event.endDate.toString(),
    };
  });
}

beforeEach(async () => {
  at("01T08:00");
  await bench.application.database
    .sql`truncate calendar_feeds, supplies, plans, blends, shapes, customers, changes restart identity cascade`;
  Object.assign(bench.room, await furnishByTheClock(bench.application.database.db));
});

describe("the calendar for phones", () => {
  it("has the mixing sessions with their runs, and the ship-by dates as days", async () => {
    const { db } = bench.application.database;
    const customerId = await insertCustomer(db);
    await insertOrder(db, { customerId, lines: [{ productId: bench.room.ball, units: 12 }] });
    const [session, ...more] = await events(await open());
    expect(session).toMatchObject({
      what: "Mix Cedar amber",
      about: "09:00 Cedar amber: 2 bowls, 54 pieces",
      starts: "2027-03-01T09:00:00Z",
      ends: "2027-03-01T13:00:00Z",
    });
    // A day's event ends on the day after, which is not part of it (RFC 5545, 3.6.1).
    expect(more.filter(({ what }) => what.startsWith("Ship"))).toMatchObject([
      {
        what: "Ship W-104 to The Lamplit Otter: 12 pieces",
        starts: "2027-03-05",
        ends: "2027-03-06",
      },
    ]);
    // Both lots will be pressed by 10:23:12: turned after lunch, in whole minutes.
    expect(more.find(({ what }) => what.startsWith("Turn BAHH"))).toMatchObject({
      starts: "2027-03-01T14:53:00Z",
      ends: "2027-03-01T14:56:00Z",
    });
  });

  it("has the turnings, each under a UID that stays while its time moves and others are done", async () => {
    const address = await open();
    await bench.helper.post(`/bench/runs/${bench.room.runId}/start`, {}, { from: "/bench" });
    at("01T09:30");
    await bench.helper.post(`/bench/lots/${bench.room.ballLot}/pressing`, pressed(30), { from: "/bench" });
    const turnings = async () => (await events(address)).filter(({ what }) => what.startsWith("Turn BAHH"));
    // Pressed at 09:30: 14:00, 30 balls of 4 s until 14:02, and three hours after that.
    const [first, second] = await turnings();
    expect(first).toMatchObject({
      what: "Turn BAHH: 30 pieces Cedar amber ball",
      starts: "2027-03-01T14:00:00Z",
      ends: "2027-03-01T14:02:00Z",
    });
    expect(second?.starts).toBe("2027-03-01T17:02:00Z");
    at("01T14:20");
    await bench.helper.post(
      `/bench/lots/${bench.room.ballLot}/turning`,
      { turning: "1" },
      { from: "/bench" },
    );
    const [left] = await turnings();
    expect(left).toMatchObject({ uid: second?.uid, starts: "2027-03-01T17:20:00Z" });
    expect(left?.uid).not.toBe(first?.uid);
  });

  it("is stable: asked twice it is the same but for when it was written, whichever address is asked", async () => {
    const without = (text: string) => text.replaceAll(/^DTSTAMP:.*$/gm, "");
    const first = (await ask(await open())).body;
    at("01T08:01");
    expect(without((await ask(await open())).body)).toBe(without(first));
  });

  it("keeps instants through a change of clocks: nine on the wall before and after it", async () => {
    const sql = bench.application.database.sql;
    const address = await open();
    await sql`update workshop set time_zone = 'Europe/Lisbon'`;
    for (const [day, instant] of [
      ["2027-03-27", "2027-03-27T09:00:00Z"],
      ["2027-03-28", "2027-03-28T08:00:00Z"],
    ] as const) {
      bench.application.clock.set(`${day}T06:00:00Z`);
      await sql`update runs set session_date = ${day}, session_starts_at = ${instant}::timestamptz,
        session_ends_at = ${instant}::timestamptz + interval '4 hours'`;
      const sessions = [{ date: day, start: "09:00", end: "13:00", handMinutes: 240 }];
      const instants = [
        { startsAt: instant, endsAt: new Date(Date.parse(instant) + 14_400_000).toISOString() },
      ];
      await sql`update plans set plan_case = ${sql.json({ sessions })}, session_instants = ${sql.json(instants)}`;
      const [session] = await events(address);
      expect([session?.starts, session?.about]).toEqual([instant, "09:00 Cedar amber: 2 bowls, 54 pieces"]);
    }
    await sql`update workshop set time_zone = 'UTC'`;
  });
});

describe("what the calendar is written in (RFC 5545)", () => {
  const written = writeCalendar(
    {
      workshop: {
        name: "Tidepool, Thimble; & Sœurs",
        timeZone: "UTC",
        openedAt: new Date(1_800_000_000_000),
      },
      mixing: [],
      turnings: [],
      lots: new Map(),
      shipBy: [
        {
          orderId: 7,
          reference: "W-7",
          // Two octets a letter, and all that has to be escaped.
          customer: `${"Ünderwäter ".repeat(12)}back\\slash, comma; semi:colon\nnext`,
          shipBy: "2027-03-05",
          units: 1,
        },
      ],
    },
    new Date("2027-03-01T08:00:00Z"),
  );
  const lines = written.split("\r\n");

  it("ends every line with CRLF, and has no other line break (3.1)", () => {
    expect(written.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    expect(lines[0]).toBe("BEGIN:VCALENDAR");
    expect(lines.filter((line) => line !== "").at(-1)).toBe("END:VCALENDAR");
  });

  it("folds at 75 octets, never inside a letter (3.1)", () => {
    const octets = lines.map((line) => Buffer.byteLength(line));
    expect(Math.max(...octets)).toBeLessThanOrEqual(75);
    expect(Math.max(...octets)).toBeGreaterThan(70);
    expect(lines.some((line) => line.startsWith(" "))).toBe(true);
    expect(written).not.toContain("\ufffd");
  });

  it("has VERSION and PRODID once, and a UID and a DTSTAMP in UTC for each event (3.7.3, 3.7.4, 3.8.4.7, 3.8.7.2)", () => {
    const count = (pattern: RegExp) => lines.filter((line) => pattern.test(line)).length;
    expect([count(/^VERSION:2\.0$/), count(/^PRODID:/), count(/^BEGIN:VEVENT$/)]).toEqual([1, 1, 1]);
    expect(count(/^UID:ship-by-7\.\w+@halfmold$/)).toBe(1);
    expect(count(/^DTSTAMP:20270301T080000Z$/)).toBe(1);
    expect(count(/^DTSTART;VALUE=DATE:20270305$/)).toBe(1);
  });

  it("names no time zone, so that none has to be described (3.2.19)", () => {
    expect(written).not.toMatch(/TZID|VTIMEZONE|X-WR-TIMEZONE/);
  });

  it("escapes backslash, comma, semicolon and line break, but no colon (3.3.11)", () => {
    const unfolded = written.replaceAll("\r\n ", "");
    expect(unfolded).toContain("back\\\\slash\\, comma\\; semi:colon\\nnext");
    const [event] = new ICAL.Component(ICAL.parse(written)).getAllSubcomponents("vevent");
    expect(event?.getFirstPropertyValue("summary")).toContain(
      "back\\slash, comma; semi:colon\nnext: 1 piece",
    );
  });
});

describe("the calendar's address", () => {
  it("is shown once, and only its hash is kept", async () => {
    const made = await make();
    const address = addressIn(made.body);
    expect(address).not.toBe("");
    const kept = JSON.stringify(
      await bench.application.database.sql`
      select calendar_feeds::text as feed, (select json_agg(form_receipts) from form_receipts) as receipts,
        (select json_agg(changes) from changes) as changes from calendar_feeds`,
    );
    expect(kept).not.toContain(address.split("/").at(-1));
    expect((await bench.owner.get(PAGE)).body).not.toContain(address);
    expect(headingOf((await bench.owner.get(PAGE)).body)).toContain("can be seen");
  });

  it("is renewed: the old one leads nowhere at once", async () => {
    const old = await open();
    const renewed = await open();
    expect([(await ask(old)).statusCode, (await ask(renewed)).statusCode]).toEqual([404, 200]);
  });

  it("is withdrawn: then it leads nowhere, like one that never was", async () => {
    const address = await open();
    const withdrawn = await bench.owner.post(`${PAGE}/withdrawal`, {}, { from: PAGE });
    expect(withdrawn.headers.location).toBe(PAGE);
    const [gone, never] = [await ask(address), await ask(`/calendar/${"x".repeat(43)}`)];
    expect([gone.statusCode, gone.body]).toEqual([never.statusCode, never.body]);
    expect((await bench.changes("workshop", 1)).map(({ what }) => what)).toEqual([
      "calendar's address made",
      "calendar's address withdrawn",
    ]);
  });

  it("is made once by a form that is sent twice, and one stays where two are made at once", async () => {
    const formToken = randomUUID();
    const [first, again] = [await make(formToken), await make(formToken)];
    expect(textOf(again.body)).toContain("The address was made already and was shown once.");
    expect((await ask(addressIn(first.body))).statusCode).toBe(200);
    const sql = bench.application.database.sql;
    const both = await overlapping(sql, (gate) => gate`select 1 from workshop for update`, [
      () => make(),
      () => make(),
    ]);
    const open = await Promise.all(both.map(async ({ body }) => (await ask(addressIn(body))).statusCode));
    expect(open.sort()).toEqual([200, 404]);
  });

  it("is the owner's to make: no helper's, no stranger's", async () => {
    expect((await bench.helper.get(PAGE)).statusCode).toBe(403);
    expect((await bench.helper.post(PAGE, {}, { from: "/bench" })).statusCode).toBe(403);
    expect(await bench.application.database.sql`select 1 from calendar_feeds`).toHaveLength(0);
  });
});
