import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, ledTo, mistakeBeside, ownerInSetup } from "./setupRoom.ts";

const application = useApplication();
let owner: Visitor;
beforeAll(async () => {
  owner = await ownerInSetup(application);
});
beforeEach(async () => {
  await application.database.sql`delete from week_sessions`;
  await application.database.sql`delete from calendar_exceptions`;
});

const morning = { starts: "09:00", ends: "13:00", handMinutes: "240", mixing: "yes" };
const mondays = { ...morning, weekdays: ["1"] };

const week = async () =>
  (
    await application.database
      .sql`select weekday, starts_minute, ends_minute from week_sessions order by weekday, starts_minute`
  ).map((row) => [row.weekday, row.starts_minute, row.ends_minute]);

async function addMonday(): Promise<number> {
  await owner.post("/setup/sessions", mondays);
  const [row] = await application.database.sql`select id from week_sessions`;
  return Number(row?.id);
}

describe("adding sessions to the ordinary week", () => {
  it("adds the same hours on every ticked day, once, however often the form is sent", async () => {
    const before = (await changesOf(application, "week session")).length;
    const formToken = randomUUID();
    const sent = { ...morning, weekdays: ["3", "1", "3"] };
    const answer = await owner.post("/setup/sessions", sent, { formToken });
    await owner.post("/setup/sessions", sent, { formToken });
    expect(ledTo(answer)).toEqual([303, "/setup/sessions"]);
    expect(await week()).toEqual([
      [1, 540, 780],
      [3, 540, 780],
    ]);
    expect((await changesOf(application, "week session")).length - before).toBe(2);
    const page = await owner.get("/setup/sessions");
    expect(page.body).toContain("<h1>2 sessions and 8 h of handwork in an ordinary week.</h1>");
  });

  it("lets a session begin when the one before it ends, and no minute earlier", async () => {
    await addMonday();
    const early = await owner.post("/setup/sessions", { ...mondays, starts: "12:59", ends: "17:00" });
    expect([early.statusCode, mistakeBeside(early, "starts")]).toEqual([
      422,
      "This overlaps the ordinary session on Monday from 09:00 to 13:00.",
    ]);
    const then = await owner.post("/setup/sessions", { ...mondays, starts: "13:00", ends: "17:00" });
    expect(then.statusCode).toBe(303);
    expect(await week()).toHaveLength(2);
  });

  it("adds none of several days when one of them overlaps", async () => {
    await addMonday();
    const answer = await owner.post("/setup/sessions", { ...morning, weekdays: ["7", "1"] });
    expect(answer.statusCode).toBe(422);
    expect(await week()).toEqual([[1, 540, 780]]);
  });

  it("keeps sessions between 01:00 and 23:00, and says so beside the field", async () => {
    const early = await owner.post("/setup/sessions", { ...mondays, starts: "00:59" });
    expect(mistakeBeside(early, "starts")).toBe("A session starts at 01:00 or later.");
    const late = await owner.post("/setup/sessions", { ...mondays, ends: "23:01" });
    expect(mistakeBeside(late, "ends")).toBe("A session ends at 23:00 or earlier.");
    const longest = await owner.post("/setup/sessions", { ...mondays, starts: "01:00", ends: "23:00" });
    expect(longest.statusCode).toBe(303);
    expect((await owner.get("/setup/sessions/new")).body).toContain("no change of the clocks");
  });

  it("adds at most ten sessions to a day", async () => {
    const hours = Array.from({ length: 11 }, (_, hour) => String(hour + 8).padStart(2, "0"));
    const answers = [];
    for (const hour of hours) {
      answers.push(
        await owner.post("/setup/sessions", { ...mondays, starts: `${hour}:00`, ends: `${hour}:30` }),
      );
    }
    expect(answers.map((answer) => answer.statusCode)).toEqual([...Array(10).fill(303), 422]);
    const last = answers.at(-1);
    expect(last && mistakeBeside(last, "starts")).toContain("A day has at most 10 such sessions");
    expect(await week()).toHaveLength(10);
  });

  it("answers a session that ends before it starts, no day, and wrong days", async () => {
    const backwards = await owner.post("/setup/sessions", { ...mondays, ends: "09:00" });
    expect(mistakeBeside(backwards, "ends")).toBe("The session has to end after it starts.");
    const never = await owner.post("/setup/sessions", morning);
    expect(mistakeBeside(never, "weekdays")).toBe("Tick at least one day.");
    const odd = await owner.post("/setup/sessions", { ...morning, weekdays: ["8"] });
    expect(mistakeBeside(odd, "weekdays")).toBe("Tick days of the week only.");
    expect(await week()).toEqual([]);
  });

  it("refuses hours in which an extra session stands on a coming date, but not on one that is a day off", async () => {
    const extra = { ...morning, onDate: "2027-03-08", note: "" };
    await owner.post("/setup/sessions/extra", extra);
    const answer = await owner.post("/setup/sessions", mondays);
    expect(mistakeBeside(answer, "starts")).toBe(
      "This overlaps the extra session on Monday 8 March from 09:00 to 13:00.",
    );
    await owner.post("/setup/sessions/day-off", { onDate: "2027-03-08", note: "" });
    expect((await owner.post("/setup/sessions", mondays)).statusCode).toBe(303);
  });
});

describe("the tables themselves", () => {
  const insert = (weekday: number, starts: number, ends: number) =>
    application.database
      .sql`insert into week_sessions (weekday, starts_minute, ends_minute, hand_minutes, mixing)
      values (${weekday}, ${starts}, ${ends}, 10, true)`;

  it("refuse two sessions that overlap, whoever writes them", async () => {
    await insert(1, 540, 780);
    await expect(insert(1, 779, 900)).rejects.toMatchObject({
      code: "23P01",
      constraint_name: "week_sessions_never_overlap",
    });
    await insert(1, 780, 900);
    await insert(2, 779, 900);
  });

  it("refuse hours beyond 01:00 to 23:00 and days beyond the week", async () => {
    await expect(insert(1, 59, 780)).rejects.toMatchObject({ constraint_name: "week_sessions_times" });
    await expect(insert(1, 540, 1381)).rejects.toMatchObject({ constraint_name: "week_sessions_times" });
    await expect(insert(8, 540, 780)).rejects.toMatchObject({ constraint_name: "week_sessions_weekday" });
  });
});

describe("changing and removing a session", () => {
  it("moves it within its day, across its own old hours, and writes down both", async () => {
    const id = await addMonday();
    const answer = await owner.post(`/setup/sessions/${id}`, { ...morning, starts: "10:00", ends: "14:00" });
    expect(ledTo(answer)).toEqual([303, "/setup/sessions"]);
    expect(await week()).toEqual([[1, 600, 840]]);
    expect((await changesOf(application, "week session")).at(-1)).toMatchObject({
      what: "changed",
      before: { startsMinute: 540 },
      after: { startsMinute: 600 },
    });
  });

  it("refuses to move it over another session and changes nothing", async () => {
    const id = await addMonday();
    await owner.post("/setup/sessions", { ...mondays, starts: "14:00", ends: "17:00" });
    const answer = await owner.post(`/setup/sessions/${id}`, { ...morning, ends: "15:00" });
    expect(mistakeBeside(answer, "starts")).toContain("from 14:00 to 17:00");
    expect(await week()).toEqual([
      [1, 540, 780],
      [1, 840, 1020],
    ]);
  });

  it("takes it out of the week, and answers 404 when it is gone already", async () => {
    const id = await addMonday();
    expect(ledTo(await owner.post(`/setup/sessions/${id}/removal`, {}))).toEqual([303, "/setup/sessions"]);
    expect(await week()).toEqual([]);
    expect((await changesOf(application, "week session")).at(-1)?.what).toBe("removed");
    expect((await owner.post(`/setup/sessions/${id}/removal`, {})).statusCode).toBe(404);
    expect((await owner.get(`/setup/sessions/${id}`)).statusCode).toBe(404);
  });
});
