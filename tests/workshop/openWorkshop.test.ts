import { randomUUID } from "node:crypto";
import { sql } from "drizzle-orm";
import postgres from "postgres";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { firstOwner, ownerAccount, signedIn, useApplication } from "../build/application.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, ledTo, mistakeBeside } from "./setupRoom.ts";

const application = useApplication();

const numbers = {
  name: "Tidepool & Thimble",
  timeZone: "Europe/Lisbon",
  trays: "8",
  mixers: "1",
  bowlGrams: "2600,5",
  minBowlGrams: "900",
  bowlMinutes: "30",
  mixMinutes: "20",
  cleanMinutes: "12.5",
  firstTurnHours: "4.5",
  everyTurnHours: "3",
  horizonDays: "14",
};

let owner: Visitor;
beforeEach(async () => {
  owner = (await firstOwnerOnce()) ?? (await signedIn(application, ownerAccount));
  await application.database.sql`delete from workshop`;
});

let isThere = false;
async function firstOwnerOnce(): Promise<Visitor | undefined> {
  if (isThere) return undefined;
  isThere = true;
  return await firstOwner(application);
}

const workshops = () => application.database.sql`select * from workshop`;

describe("the choice at the first visit", () => {
  it("is where every page leads while there is no workshop", async () => {
    expect(ledTo(await owner.get("/setup"))).toEqual([303, "/welcome/workshop"]);
    expect(ledTo(await owner.get("/orders"))).toEqual([303, "/welcome/workshop"]);
  });

  it("offers the sample workshop and an empty one with the usual numbers filled in", async () => {
    const page = await owner.get("/welcome/workshop");
    expect(page.body).toContain('action="/welcome/sample"');
    expect(page.body).toContain('action="/welcome/workshop"');
    expect(page.body).toMatch(/name="bowlGrams"[^>]*value="2600"|value="2600"[^>]*name="bowlGrams"/);
    expect(page.body).toContain('<option value="Europe/Lisbon">');
    expect(page.body).toContain('<option value="UTC"');
  });

  it("opens an empty workshop with the numbers given, weights in milligrams, and leads to the setup", async () => {
    const answer = await owner.post("/welcome/workshop", numbers);
    expect(ledTo(answer)).toEqual([303, "/setup"]);
    const [row] = await workshops();
    expect(row).toMatchObject({
      name: "Tidepool & Thimble",
      time_zone: "Europe/Lisbon",
      bowl_milligrams: 2_600_500,
      min_bowl_milligrams: 900_000,
      clean_minutes: "12.50",
      horizon_days: 14,
    });
    expect((await changesOf(application, "workshop")).at(-1)).toMatchObject({ what: "opened", before: null });
    expect(ledTo(await owner.get("/welcome/workshop"))).toEqual([303, "/setup"]);
  });

  it("answers every mistake beside its field, keeps what was typed, and opens nothing", async () => {
    const answer = await owner.post("/welcome/workshop", {
      ...numbers,
      name: "  ",
      timeZone: "Europe/Atlantis",
      trays: "-1",
      bowlGrams: "a lot",
      mixMinutes: "",
      horizonDays: "2",
    });
    expect(answer.statusCode).toBe(422);
    expect(mistakeBeside(answer, "name")).toBe("Fill this in.");
    expect(mistakeBeside(answer, "timeZone")).toBe("Choose a time zone from the list.");
    expect(mistakeBeside(answer, "trays")).toBe("Give a whole number from 0 to 10\u202f000.");
    expect(mistakeBeside(answer, "bowlGrams")).toContain("Give a number from 1 to 200\u202f000");
    expect(mistakeBeside(answer, "mixMinutes")).toBe("Fill this in.");
    expect(mistakeBeside(answer, "horizonDays")).toBe("Give a whole number from 3 to 120.");
    expect(answer.body).toContain('value="a lot"');
    expect(await workshops()).toHaveLength(0);
  });

  it("says beside the field that the database knows no such zone, though the platform does", async () => {
    // The platform takes the name in any case, the database only as it is written.
    const answer = await owner.post("/welcome/workshop", { ...numbers, timeZone: "europe/lisbon" });
    expect(answer.statusCode).toBe(422);
    expect(mistakeBeside(answer, "timeZone")).toContain("choose one nearby");
    expect(await workshops()).toHaveLength(0);
  });

  it("refuses a least bowl that weighs more than the fullest one, and takes one that weighs the same", async () => {
    const wrong = await owner.post("/welcome/workshop", { ...numbers, minBowlGrams: "2600.501" });
    expect(mistakeBeside(wrong, "minBowlGrams")).toContain("cannot weigh more");
    const right = await owner.post("/welcome/workshop", { ...numbers, minBowlGrams: "2600.5" });
    expect(right.statusCode).toBe(303);
  });

  it("opens one workshop when two openings arrive at once", async () => {
    const before = (await changesOf(application, "workshop")).length;
    // A stranger's transaction holds the row's place until both openings wait for it, then gives it up.
    const holder = postgres(application.database.url, { max: 1, onnotice: () => {} });
    const answers = await holder.begin(async (held) => {
      await held`insert into workshop values (1, 'in the way', 'UTC', 1, 1, 1, 1, 1, 1, 1, 14, now())`;
      const sent = Promise.all([
        owner.post("/welcome/workshop", numbers, { formToken: randomUUID() }),
        owner.post("/welcome/workshop", { ...numbers, name: "Other" }, { formToken: randomUUID() }),
      ]);
      await vi.waitFor(async () => expect(await waitingForLocks()).toBe(2), { timeout: 10_000 });
      await held`delete from workshop`;
      return [sent] as const;
    });
    expect((await answers[0]).map(ledTo)).toEqual([
      [303, "/setup"],
      [303, "/setup"],
    ]);
    await holder.end();
    expect(await workshops()).toHaveLength(1);
    expect((await changesOf(application, "workshop")).length - before).toBe(1);
  });

  it("opens one workshop when the form is sent twice", async () => {
    const before = (await changesOf(application, "workshop")).length;
    const formToken = randomUUID();
    const first = await owner.post("/welcome/workshop", numbers, { formToken });
    const second = await owner.post("/welcome/workshop", numbers, { formToken });
    expect([ledTo(first), ledTo(second)]).toEqual([
      [303, "/setup"],
      [303, "/setup"],
    ]);
    expect((await changesOf(application, "workshop")).length - before).toBe(1);
  });
});

async function waitingForLocks(): Promise<number> {
  const [row] = await application.database.db.execute<{ waiting: number }>(sql`
    select count(*)::integer as waiting from pg_stat_activity
    where datname = current_database() and wait_event_type = 'Lock'`);
  return row?.waiting ?? 0;
}
