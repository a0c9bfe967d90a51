import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it, vi } from "vitest";
import { useApplication } from "../build/application.ts";
import { insertWorkingWeek } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, ledTo, mistakeBeside, ownerInSetup } from "./setupRoom.ts";

// Monday 1 March 2027, 08:00; the week works Monday to Friday, 09:00 to 13:00 and 14:00 to 17:00.
const application = useApplication();
let owner: Visitor;
beforeAll(async () => {
  owner = await ownerInSetup(application);
  await insertWorkingWeek(application.database.db);
});
beforeEach(async () => {
  await application.database.sql`delete from calendar_exceptions`;
});

const evening = { onDate: "2027-03-03", starts: "18:00", ends: "20:00", handMinutes: "120", note: "" };

const dates = async () =>
  (
    await application.database.sql`select on_date::text, kind from calendar_exceptions order by on_date, id`
  ).map((row) => `${row.on_date} ${row.kind}`);

describe("a day off", () => {
  it("is one date, or every date from the first to the last, once however often it is sent", async () => {
    const formToken = randomUUID();
    const holiday = { onDate: "2027-03-30", lastDate: "2027-04-01", note: "at the sea" };
    const answer = await owner.post("/setup/sessions/day-off", holiday, { formToken });
    await owner.post("/setup/sessions/day-off", holiday, { formToken });
    expect(ledTo(answer)).toEqual([303, "/setup/sessions"]);
    expect(await dates()).toEqual(["2027-03-30 day-off", "2027-03-31 day-off", "2027-04-01 day-off"]);
    const page = await owner.get("/setup/sessions");
    expect(page.body).toContain("Tuesday 30 March differs.</h1>");
    expect(page.body).toContain("at the sea");
  });

  it("is said once a date; a stretch with such a date is not taken at all", async () => {
    await owner.post("/setup/sessions/day-off", { onDate: "2027-03-31", note: "" });
    const answer = await owner.post("/setup/sessions/day-off", {
      onDate: "2027-03-30",
      lastDate: "2027-04-01",
      note: "",
    });
    expect([answer.statusCode, mistakeBeside(answer, "onDate")]).toEqual([
      422,
      "Wednesday 31 March is a day off already.",
    ]);
    expect(await dates()).toEqual(["2027-03-31 day-off"]);
  });

  it("can be today but not yesterday, nor end before it begins, nor last longer than 92 days", async () => {
    const post = (onDate: string, lastDate: string) =>
      owner.post("/setup/sessions/day-off", { onDate, lastDate, note: "" });
    expect(mistakeBeside(await post("2027-02-28", ""), "onDate")).toContain("Choose today, Monday 1 March");
    expect(mistakeBeside(await post("2027-03-05", "2027-03-04"), "lastDate")).toContain("cannot come before");
    expect(mistakeBeside(await post("2027-04-01", "2027-07-02"), "lastDate")).toBe(
      "At most 92 days at once.",
    );
    expect(mistakeBeside(await post("2027-02-30", ""), "onDate")).toContain("a date of the calendar");
    expect(await dates()).toEqual([]);
    expect((await post("2027-04-01", "2027-07-01")).statusCode).toBe(303);
    expect((await post("2027-03-01", "")).statusCode).toBe(303);
    expect(await dates()).toHaveLength(93);
  });
});

describe("damp air", () => {
  it("multiplies the drying of a stretch of dates", async () => {
    const damp = { onDate: "2027-03-02", lastDate: "2027-03-03", dryingFactor: "1,5", note: "" };
    expect((await owner.post("/setup/sessions/damp", damp)).statusCode).toBe(303);
    const rows = await application.database.sql`select drying_factor from calendar_exceptions`;
    expect(rows.map((row) => row.drying_factor)).toEqual(["1.50", "1.50"]);
    expect((await owner.get("/setup/sessions")).body).toContain("drying takes 1.5 times as long");
    const twice = await owner.post("/setup/sessions/damp", damp);
    expect(mistakeBeside(twice, "onDate")).toBe("Tuesday 2 March is called damp already.");
  });

  it("has a factor from 0.25 to 10", async () => {
    const post = (dryingFactor: string) =>
      owner.post("/setup/sessions/damp", { onDate: "2027-03-02", dryingFactor, note: "" });
    expect(mistakeBeside(await post("0.24"), "dryingFactor")).toContain("from 0.25 to 10");
    expect(mistakeBeside(await post("10.01"), "dryingFactor")).toContain("from 0.25 to 10");
    expect(await dates()).toEqual([]);
    expect((await post("0.25")).statusCode).toBe(303);
  });
});

describe("an extra session", () => {
  it("is added beside the ordinary ones", async () => {
    expect((await owner.post("/setup/sessions/extra", evening)).statusCode).toBe(303);
    expect(await dates()).toEqual(["2027-03-03 extra"]);
    expect((await owner.get("/setup/sessions")).body).toContain(
      "extra session 18:00 to 20:00, 2 h of handwork, no mixing",
    );
  });

  it("may not overlap an ordinary session of its date, nor another extra one", async () => {
    const ordinary = await owner.post("/setup/sessions/extra", { ...evening, starts: "16:59" });
    expect(mistakeBeside(ordinary, "starts")).toBe(
      "This overlaps the ordinary session on Wednesday from 14:00 to 17:00.",
    );
    await owner.post("/setup/sessions/extra", evening);
    const extra = await owner.post("/setup/sessions/extra", { ...evening, starts: "19:59", ends: "21:00" });
    expect(mistakeBeside(extra, "starts")).toBe(
      "This overlaps the extra session on Wednesday 3 March from 18:00 to 20:00.",
    );
    expect(
      (await owner.post("/setup/sessions/extra", { ...evening, starts: "17:00", ends: "18:00" })).statusCode,
    ).toBe(303);
    expect(await dates()).toHaveLength(2);
  });

  it("is one of at most ten of its date", async () => {
    await application.database.sql`insert into calendar_exceptions (on_date, kind, starts_minute, ends_minute,
      hand_minutes, mixing) select '2027-03-03', 'extra', 1080 + 10 * n, 1085 + 10 * n, 5, false
      from generate_series(0, 9) as n`;
    const answer = await owner.post("/setup/sessions/extra", { ...evening, starts: "20:00", ends: "21:00" });
    expect(mistakeBeside(answer, "starts")).toContain("A day has at most 10 such sessions");
  });

  it("may stand in the hours of the ordinary week on a day off, which then stays one", async () => {
    await owner.post("/setup/sessions/day-off", { onDate: "2027-03-03", note: "" });
    const inTheMorning = { ...evening, starts: "10:00", ends: "12:00" };
    expect((await owner.post("/setup/sessions/extra", inTheMorning)).statusCode).toBe(303);
    const [off] = await application.database.sql`select id from calendar_exceptions where kind = 'day-off'`;
    const answer = await owner.post(`/setup/sessions/exceptions/${off?.id}/removal`, {});
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("would overlap the ordinary one from 09:00 to 13:00");
    expect(await dates()).toHaveLength(2);
  });

  it("is held apart from an ordinary session that is being added at the same time", async () => {
    const { sql } = application.database;
    const answers = await sql.begin(async (held) => {
      await held`select 1 from workshop for update`;
      const sent = Promise.all([
        owner.post("/setup/sessions", { ...evening, weekdays: ["3"] }),
        owner.post("/setup/sessions/extra", evening),
      ]);
      await vi.waitFor(async () => expect(await waitingForLocks()).toBe(2), { timeout: 10_000 });
      return [sent] as const;
    });
    const statuses = (await answers[0]).map((answer) => answer.statusCode);
    expect(statuses.toSorted()).toEqual([303, 422]);
    await sql`delete from week_sessions where starts_minute = 1080`;
  });

  async function waitingForLocks(): Promise<number> {
    const [row] = await application.database.sql`select count(*)::integer as waiting from pg_stat_activity
      where datname = current_database() and wait_event_type = 'Lock'`;
    return row?.waiting;
  }
});

describe("making a date ordinary again", () => {
  it("takes the exception away and writes down what it was", async () => {
    await owner.post("/setup/sessions/extra", evening);
    const [extra] = await application.database.sql`select id from calendar_exceptions`;
    const path = `/setup/sessions/exceptions/${extra?.id}/removal`;
    expect(ledTo(await owner.post(path, {}))).toEqual([303, "/setup/sessions"]);
    expect(await dates()).toEqual([]);
    expect((await changesOf(application, "calendar exception")).at(-1)).toMatchObject({
      what: "removed",
      before: { onDate: "2027-03-03", kind: "extra", startsMinute: 1080 },
    });
    expect((await owner.post(path, {})).statusCode).toBe(404);
  });
});

describe("the tables themselves", () => {
  const insertExtra = (starts: number, ends: number) =>
    application.database.sql`insert into calendar_exceptions (on_date, kind, starts_minute, ends_minute,
      hand_minutes, mixing) values ('2027-03-06', 'extra', ${starts}, ${ends}, 10, true)`;

  it("refuse two extra sessions of a date that overlap, and a second day off", async () => {
    const { sql } = application.database;
    await insertExtra(540, 600);
    await expect(insertExtra(599, 660)).rejects.toMatchObject({
      code: "23P01",
      constraint_name: "calendar_exceptions_never_overlap",
    });
    await sql`insert into calendar_exceptions (on_date, kind) values ('2027-03-06', 'day-off')`;
    await expect(
      sql`insert into calendar_exceptions (on_date, kind) values ('2027-03-06', 'day-off')`,
    ).rejects.toMatchObject({ constraint_name: "calendar_exceptions_once_a_date" });
    await expect(
      sql`insert into calendar_exceptions (on_date, kind) values ('2027-03-06', 'damp')`,
    ).rejects.toMatchObject({ constraint_name: "calendar_exceptions_damp_has_its_factor" });
  });
});
