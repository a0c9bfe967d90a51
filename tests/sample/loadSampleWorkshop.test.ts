import { sql } from "drizzle-orm";
import { DateTime } from "luxon";
import { beforeAll, describe, expect, it } from "vitest";
import type { Transaction } from "../../db/connect.ts";
import { blends } from "../../db/schema/products.ts";
import type { PlanCase } from "../../server/planning/case.ts";
import { planCase as findPlan } from "../../server/planning/planCase.ts";
import { whatHoldsUp } from "../../server/planning/questions/whatHoldsUp.ts";
import { afterIterations } from "../../server/planning/stop.ts";
import { buildCase } from "../../server/plans/buildCase.ts";
import { loadFacts } from "../../server/plans/loadFacts.ts";
import { loadSampleWorkshop } from "../../server/sample/loadSampleWorkshop.ts";
import { insertPerson } from "../build/rows.ts";
import { useDatabase } from "../db/testDatabase.ts";

const database = useDatabase();
let personId: number;
beforeAll(async () => {
  personId = await insertPerson(database.db, { name: "Wren Oddfellow", role: "owner" });
});

/** Loads the sample at an instant, looks at it, and takes everything back. */
async function withSample<Seen>(
  at: string,
  timeZone: string,
  look: (transaction: Transaction, at: Date) => Promise<Seen>,
): Promise<Seen> {
  const takenBack = { seen: null as Seen | null };
  await database.db
    .transaction(async (transaction) => {
      const now = new Date(at);
      expect(await loadSampleWorkshop(transaction, { personId, at: now }, timeZone)).toMatchObject({
        ok: true,
      });
      takenBack.seen = await look(transaction, now);
      throw takenBack;
    })
    .catch((thrown) => expect(thrown).toBe(takenBack));
  if (takenBack.seen === null) throw new Error("The sample was not looked at");
  return takenBack.seen;
}

/** Cases that were built before, by their instants; each takes all of the sample's commands. */
const cases = new Map<string, PlanCase>();

async function sampleCase(at: string, timeZone: string): Promise<PlanCase> {
  const known = cases.get(`${at} ${timeZone}`);
  if (known !== undefined) return known;
  const planCase = await withSample(at, timeZone, async (transaction, now) => {
    const built = buildCase(await loadFacts(transaction), now);
    if (!built.ok) throw new Error(`No case: ${built.refusal.kind}`);
    return built.value.planCase;
  });
  cases.set(`${at} ${timeZone}`, planCase);
  return planCase;
}

describe("the sample workshop", () => {
  // Clocks go back between the first of its past orders and the day it is loaded on: a day then has 25 hours.
  it.each([
    ["a morning", "2027-11-10T09:00:00+01:00"],
    ["an hour before midnight", "2027-11-10T23:30:00+01:00"],
    ["half an hour after midnight", "2027-04-10T00:30:00+02:00"],
  ])("looks back on orders that left on their days, one late, from %s", async (_, at) => {
    const leftAfter = await withSample(at, "Europe/Berlin", async (transaction) => {
      const rows = await transaction.execute<{ readonly days: number }>(sql`
        select (deliveries.shipped_at at time zone 'Europe/Berlin')::date - orders.ship_by as days
        from deliveries join orders on orders.id = deliveries.order_id order by orders.reference`);
      return rows.map(({ days }) => days);
    });
    expect(leftAfter).toEqual([0, -1, 2, 0, -1, 0]);
  });

  it.each([
    ["a Monday before work", "2027-03-01T08:00:00Z", "UTC"],
    ["a Wednesday in the middle of the afternoon", "2027-03-03T15:10:00Z", "UTC"],
    ["a Friday morning", "2027-03-05T10:00:00Z", "UTC"],
    ["a Saturday, after the market", "2027-03-06T14:00:00Z", "UTC"],
    ["a Sunday evening", "2027-03-07T20:00:00Z", "UTC"],
    // Clocks change on the last Sunday of March and of October (EU), on the second of March in the United States.
    ["the days before clocks go forward", "2027-03-26T10:00:00Z", "Europe/Lisbon"],
    ["the days before clocks go back", "2027-10-29T10:00:00Z", "Europe/Lisbon"],
    ["a late evening in New York, already the next day in UTC", "2027-03-12T03:30:00Z", "America/New_York"],
  ])("is a question the planner takes, on %s", async (_, at, timeZone) => {
    const built = await sampleCase(at, timeZone);
    const today = DateTime.fromISO(at, { zone: timeZone }).toISODate() ?? "";
    expect(built.orders).toHaveLength(15);
    for (const order of built.orders) expect(order.shipBy >= today, order.id).toBe(true);
    const market = built.orders.find((order) => order.id === "M-101");
    expect(DateTime.fromISO(market?.shipBy ?? "").weekdayLong).toBe("Saturday");
  });

  it.each([["2027-03-01T08:00:00Z"], ["2027-03-03T15:10:00Z"], ["2027-03-07T20:00:00Z"]])(
    "has too few ball molds for its week, and is mostly on time all the same (%s)",
    async (at) => {
      const built = await sampleCase(at, "UTC");
      const effort = () => afterIterations(12_000);
      const plan = findPlan(built, { seed: 1, stop: effort() });
      const late = plan.orders.filter((order) => order.daysLate > 0);
      expect(late.length).toBeGreaterThan(0);
      expect(late.length).toBeLessThan(plan.orders.length / 2);
      const holdUps = whatHoldsUp(built, { seed: 1, effort, plan });
      expect(holdUps.bottleneck).toMatchObject({ resource: "moldSets", shape: "ball-60" });
    },
  );

  it("tells its products apart by colour and by pattern, and is refused beside a workshop that is there already", async () => {
    const { looks, second } = await withSample("2027-03-01T08:00:00Z", "UTC", async (transaction, at) => ({
      looks: await transaction.select({ colour: blends.colour, pattern: blends.pattern }).from(blends),
      second: await loadSampleWorkshop(transaction, { personId, at }, "UTC"),
    }));
    expect(new Set(looks.map((look) => look.colour)).size).toBe(looks.length);
    expect(new Set(looks.map((look) => look.pattern)).size).toBe(looks.length);
    expect(second).toEqual({ ok: false, refusal: "already-open" });
  });

  it("is refused in a time zone that the database does not know", async () => {
    const loaded = await database.db.transaction((transaction) =>
      loadSampleWorkshop(transaction, { personId, at: new Date("2027-03-01T08:00:00Z") }, "Europe/Atlantis"),
    );
    expect(loaded).toEqual({ ok: false, refusal: "time-zone-unknown" });
    expect(await database.sql`select 1 from workshop`).toHaveLength(0);
  });
});
