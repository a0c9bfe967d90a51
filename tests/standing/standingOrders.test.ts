import { describe, expect, it } from "vitest";
import { makeDueDrafts } from "../../server/standing/makeDueDrafts.ts";
import { headingOf, textOf } from "../build/pageText.ts";
import { overlapping } from "../db/overlapping.ts";
import { ordersNow, useDesk } from "../orders/desk.ts";

const { application, desk } = useDesk();
const NOW = new Date("2027-03-01T08:00:00Z");
const TODAY = "2027-03-01";

type Fields = Record<string, string | readonly string[]>;

/** Every Friday from 5 March, a draft a week before. */
function fridays(given: Fields = {}): Fields {
  const { otter, cedar, oat } = desk();
  return {
    customer: String(otter),
    every_weeks: "1",
    weekday: "5",
    starts_on: "2027-03-05",
    ends_on: "",
    days_before: "7",
    note: "Ring the back door",
    product: [String(cedar), String(oat)],
    units: ["36", "0"],
    ...given,
  };
}

async function takeUp(given: Fields = {}): Promise<string> {
  const answer = await desk().owner.post("/orders/standing/new", fridays(given), {
    from: "/orders/standing/new",
  });
  expect([answer.statusCode, textOf(answer.body)]).toEqual([303, ""]);
  return String(answer.headers.location);
}

const decide = (place: string, what: string, fields: Fields = {}) =>
  desk().owner.post(`${place}/${what}`, fields, { from: place });

describe("a standing order", () => {
  it("becomes a draft when its date is near, which says by when it is needed and where it comes from", async () => {
    const place = await takeUp();
    const page = await desk().owner.get(place);
    expect(headingOf(page.body)).toBe(
      "The Lamplit Otter wants 36 pieces every Friday; next for Friday 5 March.",
    );
    expect(await ordersNow(application)).toEqual(["W-101 draft complete 2027-03-05: 36 Cedar ball"]);
    const [order] = await application.database.sql`select source, needed_by::text, note from orders`;
    expect(order).toEqual({ source: "standing", needed_by: "2027-03-05", note: "Ring the back door" });
  });

  it("shows its draft on Orders and on Week to the owner, and to nobody else", async () => {
    await takeUp();
    const { owner, helper } = desk();
    expect(textOf((await owner.get("/orders")).body)).toContain("One draft waits for your yes W-101");
    expect(textOf((await owner.get("/week")).body)).toContain("One draft waits for your yes W-101");
    expect(textOf((await helper.get("/week")).body)).not.toContain("for your yes");
  });

  it("makes no draft before its day, and none for a date that went by", async () => {
    await takeUp({ starts_on: "2027-03-12" });
    await makeDueDrafts(application.database.db, NOW, "2027-03-04");
    expect(await ordersNow(application)).toEqual([]);
    await makeDueDrafts(application.database.db, NOW, "2027-03-13");
    expect((await ordersNow(application)).map((words) => words.slice(0, 32))).toEqual([
      "W-101 draft complete 2027-03-19:",
    ]);
  });

  it("makes each date once, though two servers ask at the very same moment", async () => {
    await takeUp();
    const { db, sql } = application.database;
    const make = () => makeDueDrafts(db, NOW, TODAY);
    await overlapping(sql, (gate) => gate`select 1 from standing_orders for update`, [make, make]);
    expect(await sql`select 1 from orders`).toHaveLength(1);
    expect(await sql`select 1 from standing_order_dates where outcome = 'drafted'`).toHaveLength(1);
  });

  it("leaves one date out, and lets it come after all", async () => {
    const place = await takeUp({ starts_on: "2027-03-12" });
    await decide(place, "left-out", { date: "2027-03-12" });
    await makeDueDrafts(application.database.db, NOW, "2027-03-10");
    expect(await ordersNow(application)).toEqual([]);
    expect((await decide(place, "left-out", { date: "2027-03-13" })).body).toContain(
      "not come up on that date",
    );
    await decide(place, "taken-back", { date: "2027-03-12" });
    await makeDueDrafts(application.database.db, NOW, "2027-03-10");
    expect(await ordersNow(application)).toHaveLength(1);
    const late = await decide(place, "left-out", { date: "2027-03-12" });
    expect([late.statusCode, textOf(late.body)]).toEqual([
      409,
      expect.stringContaining("is a draft already"),
    ]);
  });

  it("is paused until it is taken up again; two pauses never overlap", async () => {
    const place = await takeUp({ starts_on: "2027-03-12" });
    const { db, sql } = application.database;
    await decide(place, "pauses", { first_date: "2027-03-10", last_date: "" });
    await makeDueDrafts(db, NOW, "2027-03-10");
    expect(await ordersNow(application)).toEqual([]);
    const second = await decide(place, "pauses", { first_date: "2027-05-01", last_date: "2027-05-02" });
    expect([second.statusCode, textOf(second.body)]).toEqual([
      422,
      expect.stringContaining("It is paused from Wed 10 Mar on already."),
    ]);
    const [pause] = await sql`select id from standing_order_pauses`;
    await decide(place, `pauses/${pause?.id}/end`);
    await makeDueDrafts(db, NOW, "2027-03-10");
    expect(await ordersNow(application)).toEqual(["W-101 draft complete 2027-03-12: 36 Cedar ball"]);
  });

  it("stops for good, and its drafts stay", async () => {
    const place = await takeUp();
    await desk().owner.get(place);
    await decide(place, "stop");
    await makeDueDrafts(application.database.db, NOW, "2027-03-12");
    expect(await ordersNow(application)).toHaveLength(1);
    expect(headingOf((await desk().owner.get(place)).body)).toContain("stopped");
  });

  it("follows a change from then on", async () => {
    const place = await takeUp({ starts_on: "2027-03-12" });
    const { customer: _customer, ...content } = fridays({ units: ["12", "24"], weekday: ["1", "3"] });
    const changed = await desk().owner.post(`${place}/edit`, content, { from: `${place}/edit` });
    expect(changed.headers.location).toBe(place);
    expect(headingOf((await desk().owner.get(place)).body)).toBe(
      "The Lamplit Otter wants 36 pieces every Monday and Wednesday; next for Monday 8 March.",
    );
  });

  it("leaves out what is no longer made and says so on the draft", async () => {
    await takeUp({ units: ["36", "12"] });
    await application.database.sql`update products set retired_at = now() where name = 'Oat ball'`;
    await makeDueDrafts(application.database.db, NOW, TODAY);
    expect(await ordersNow(application)).toEqual(["W-101 draft complete 2027-03-05: 36 Cedar ball"]);
    const [order] = await application.database.sql`select note from orders`;
    expect(order?.note).toContain("no longer made: 12 Oat ball.");
  });

  it("answers every mistake beside its field and takes nothing up", async () => {
    const { quayside, cedar } = desk();
    const answer = await desk().owner.post(
      "/orders/standing/new",
      fridays({
        customer: String(quayside),
        weekday: "8",
        every_weeks: "0",
        ends_on: "2027-02-01",
        days_before: "121",
        product: String(cedar),
        units: "many",
      }),
      { from: "/orders/standing/new" },
    );
    expect(answer.statusCode).toBe(422);
    for (const sentence of [
      "Tick days of the week.",
      "from 1 to 52",
      "from 0 to 120",
      "Give a whole number from 1 to",
    ])
      expect(textOf(answer.body).replaceAll("\u202f", " ")).toContain(sentence);
    expect(await application.database.sql`select 1 from standing_orders`).toHaveLength(0);
    const market = await desk().owner.post("/orders/standing/new", fridays({ customer: String(quayside) }), {
      from: "/orders/standing/new",
    });
    expect(textOf(market.body)).toContain("Choose a shop that still orders.");
  });
});
