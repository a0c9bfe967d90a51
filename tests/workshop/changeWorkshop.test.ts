import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { useApplication } from "../build/application.ts";
import type { Visitor } from "../build/visitor.ts";
import { changesOf, ledTo, mistakeBeside, ownerInSetup } from "./setupRoom.ts";

const application = useApplication();
let owner: Visitor;
beforeAll(async () => {
  owner = await ownerInSetup(application);
});

const numbers = {
  name: "Tidepool & Thimble",
  timeZone: "UTC",
  trays: "8",
  mixers: "1",
  bowlGrams: "2600",
  minBowlGrams: "900",
  bowlMinutes: "30",
  mixMinutes: "20",
  cleanMinutes: "12",
  firstTurnHours: "4.5",
  everyTurnHours: "3",
  horizonDays: "14",
};

describe("changing the workshop's numbers", () => {
  it("writes nothing down when nothing is different", async () => {
    expect(ledTo(await owner.post("/setup/workshop", numbers))).toEqual([303, "/setup"]);
    expect(await changesOf(application, "workshop")).toEqual([]);
  });

  it("keeps the new numbers with what they were before, once, however often the form is sent", async () => {
    const formToken = randomUUID();
    const sent = { ...numbers, trays: "12", timeZone: "Asia/Kathmandu" };
    await owner.post("/setup/workshop", sent, { formToken });
    await owner.post("/setup/workshop", sent, { formToken });
    const changes = await changesOf(application, "workshop");
    expect(changes).toHaveLength(1);
    expect(changes[0]).toMatchObject({
      what: "changed",
      before: { trays: 8, timeZone: "UTC" },
      after: { trays: 12, timeZone: "Asia/Kathmandu" },
    });
    const page = await owner.get("/setup/workshop");
    expect(page.body).toContain(
      "<h1>You work with 1 mixer of up to 2.6 kg a bowl, and 12 drying trays.</h1>",
    );
    expect(page.body).toContain("counts from the next plan on");
  });

  it("answers a wrong number beside its field and changes nothing", async () => {
    const before = await application.database.sql`select * from workshop`;
    const answer = await owner.post("/setup/workshop", { ...numbers, mixers: "101" });
    expect([answer.statusCode, mistakeBeside(answer, "mixers")]).toEqual([
      422,
      "Give a whole number from 0 to 100.",
    ]);
    expect(await application.database.sql`select * from workshop`).toEqual(before);
  });

  it("shows a name that attacks as text", async () => {
    await owner.post("/setup/workshop", { ...numbers, name: "<img src=x onerror=alert(1)>" });
    const page = await owner.get("/setup");
    expect(page.body).toContain("&lt;img src=x onerror=alert(1)>");
    expect(page.body).not.toContain("<img src=x");
  });
});
