import { randomUUID } from "node:crypto";
import { beforeEach, describe, expect, it } from "vitest";
import { insertOrder, insertWorkingWeek } from "../build/rows.ts";
import { effectSeal, orderFields, useDesk } from "./desk.ts";

/*
 * 24 sets hold 47 balls. What is formed on Monday morning leaves its molds on Tuesday at 09:00 (13:00 + 16 h = 05:00),
 * rests 8 h and is packed on Wednesday; so does what is formed on Monday afternoon. From Tuesday's forming it is
 * Thursday.
 */
const { application, desk } = useDesk();

const WEDNESDAY = "2027-03-03";

beforeEach(async () => {
  const { db, sql } = application.database;
  await sql`truncate week_sessions, plans cascade`;
  await sql`update workshop set trays = 30, min_bowl_milligrams = 0`;
  await insertWorkingWeek(db);
  await sql`update week_sessions set hand_minutes = 600`;
});

type Fields = Parameters<typeof orderFields>[0];

const typing = { "hx-request": "true" };

/** What stands under the form while it is being typed. */
async function askWhileTyping(fields: Fields, more: Record<string, string> = {}) {
  const answer = await desk().owner.post(
    "/orders/promise",
    { ...orderFields(fields), ...more },
    { from: "/orders/new", headers: typing },
  );
  expect(answer.statusCode).toBe(200);
  return { body: answer.body, words: answer.body.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ") };
}

const accept = (customerId: number, productId: number, units: number, shipBy: string) =>
  insertOrder(application.database.db, { customerId, shipBy, lines: [{ productId, units }] });

/** The advice that a page or a part of it carries. */
const hidden = (body: string) =>
  Object.fromEntries(
    [...body.matchAll(/name="(advised_\w+)" value="([^"]*)"/g)].map(([, name = "", value = ""]) => [
      name,
      value,
    ]),
  );

async function confirm(fields: Fields, advice: Record<string, string>) {
  const answer = await desk().owner.post(
    "/orders/new",
    { ...orderFields(fields), ...advice },
    { from: "/orders/new" },
  );
  expect(answer.statusCode).toBe(303);
  const [order] = await application.database.sql`
    select advised_ship_by::text as advised, advised_at, name as against
    from orders left join people on people.id = confirmed_against_advice_by
    order by orders.id desc limit 1`;
  const page = await desk().owner.get(String(answer.headers.location));
  return { order, page: page.body };
}

describe("while an order is being typed", () => {
  it("nothing is said before a line is whole, whatever else stands there", async () => {
    const { cedar } = desk();
    for (const lines of [[], [[cedar, ""]], [["", "12"]], [[cedar, "twelve"]], [[999_999, "0"]]] as const) {
      const { words } = await askWhileTyping({ ship_by: "", lines });
      expect(words).toContain("Fill in a line");
    }
  });

  it("the earliest safe date stands there, and that nobody could have it earlier", async () => {
    const { words } = await askWhileTyping({ ship_by: "", lines: [[desk().cedar, "36"]] });
    expect(words).toContain(
      "Wednesday 3 March is the earliest safe date, with nothing already promised moving.",
    );
    expect(words).toContain("It could not be earlier even if nobody else had ordered anything.");
  });

  it("what is promised already keeps its molds; without a piece too many both fit", async () => {
    const { otter, cedar, oat } = desk();
    await accept(otter, cedar, 40, WEDNESDAY);
    const typed = (units: string) =>
      askWhileTyping({ ship_by: WEDNESDAY, lines: [[oat, units]] }).then(({ words }) => words);
    expect(await typed("7")).toContain("Wednesday 3 March can be kept");
    const beyond = await typed("8");
    expect(beyond).toContain("Wednesday 3 March can't be kept safely; Thursday 4 March can");
    expect(beyond).toContain("By Wednesday 3 March 7 of 8 pieces, the rest by Thursday 4 March.");
    expect(beyond).toContain("In the way: the mold sets of ball-60, all in use.");
  });

  it("a date later than needed is kept, with the earliest beside it", async () => {
    const { words } = await askWhileTyping({ ship_by: "2027-03-10", lines: [[desk().cedar, "36"]] });
    expect(words).toContain("Wednesday 10 March can be kept");
    expect(words).toContain("The earliest would be Wednesday 3 March.");
  });

  it("more than the sessions ahead can make has no safe date", async () => {
    const { words } = await askWhileTyping({ ship_by: "", lines: [[desk().cedar, "9000"]] });
    expect(words).toMatch(
      /No date up to \w+ \d+ March is safe: something already promised would have to move/,
    );
  });

  it("nothing is advised about days beyond the sessions ahead, which end on 14 March", async () => {
    const beyond = { ship_by: "2027-03-22", lines: [[desk().cedar, "9000"]] } as const;
    const { words, body } = await askWhileTyping(beyond);
    expect(words).toContain("Monday 22 March lies beyond the sessions planned so far");
    expect(body).not.toContain("advised_ship_by");
    const little = await askWhileTyping({ ...beyond, lines: [[desk().cedar, "9"]] });
    expect(little.words).toContain("Wednesday 3 March is safe, and so is any later date.");
  });

  it("nothing is changed by asking", async () => {
    const { sql } = application.database;
    const count = () => sql`select (select count(*) from orders) + (select count(*) from changes)
      + (select count(*) from plans) + (select count(*) from form_receipts) as rows`;
    const before = await count();
    await askWhileTyping({ lines: [[desk().cedar, "36"]] });
    expect(await count()).toEqual(before);
  });

  it("a helper is not asked to promise anything", async () => {
    const answer = await desk().helper.post("/orders/promise", {}, { from: "/week", headers: typing });
    expect(answer.statusCode).toBe(403);
  });
});

describe("while an order is being changed", () => {
  it("its own old promise does not stand in its way, that of others does", async () => {
    const { otter, cedar } = desk();
    const { orderId } = await accept(otter, cedar, 40, WEDNESDAY);
    const fields: Fields = { ship_by: WEDNESDAY, lines: [[cedar, "47"]] };
    expect((await askWhileTyping(fields, { order: String(orderId) })).words).toContain(
      "Wednesday 3 March can be kept",
    );
    expect((await askWhileTyping(fields)).words).toContain("Wednesday 3 March can't be kept safely");
  });
});

describe("without JavaScript", () => {
  it("a button answers on the page, with everything that was typed still there", async () => {
    const { otter, cedar } = desk();
    const answer = await desk().owner.post(
      "/orders/new",
      orderFields({ customer: String(otter), note: "by hand", save: "promise", lines: [[cedar, "36"]] }),
      { from: "/orders/new" },
    );
    expect(answer.statusCode).toBe(200);
    expect(answer.body).toContain("Friday 5 March can be kept");
    expect(answer.body).toContain(">by hand</textarea>");
    expect(answer.body).toContain('value="36"');
    expect(answer.body).toContain(`<option value="${otter}" selected`);
    expect(await application.database.sql`select 1 from orders`).toHaveLength(0);
  });
});

describe("an order that is confirmed", () => {
  it("keeps what was advised, when, and who promised less time all the same", async () => {
    const { otter, cedar } = desk();
    const fields: Fields = { customer: String(otter), ship_by: "2027-03-02", lines: [[cedar, "36"]] };
    const { order, page } = await confirm(fields, hidden((await askWhileTyping(fields)).body));
    expect(order).toMatchObject({ advised: WEDNESDAY, against: "Wren Oddfellow" });
    expect(order?.advised_at).toEqual(application.clock.now());
    expect(page).toContain("promised all the same by Wren Oddfellow");
    expect(page).toContain("promised against the advice");
  });

  it("names nobody where the advice was followed", async () => {
    const { otter, cedar } = desk();
    const fields: Fields = { customer: String(otter), ship_by: WEDNESDAY, lines: [[cedar, "36"]] };
    const { order, page } = await confirm(fields, hidden((await askWhileTyping(fields)).body));
    expect(order).toMatchObject({ advised: WEDNESDAY, against: null });
    expect(page).not.toContain("all the same");
  });

  it("keeps no advice that was given for other lines", async () => {
    const { otter, cedar } = desk();
    const fields: Fields = { customer: String(otter), ship_by: "2027-03-02", lines: [[cedar, "36"]] };
    const advice = hidden((await askWhileTyping(fields)).body);
    const { order } = await confirm({ ...fields, lines: [[cedar, "37"]] }, advice);
    expect(order).toMatchObject({ advised: null, advised_at: null, against: null });
  });

  it("keeps it from the draft on, and names who confirms the draft", async () => {
    const { otter, cedar } = desk();
    const fields: Fields = {
      ...{ customer: String(otter), ship_by: "2027-03-02", save: "draft" },
      lines: [[cedar, "36"]],
    };
    const { order } = await confirm(fields, hidden((await askWhileTyping(fields)).body));
    expect(order).toMatchObject({ advised: WEDNESDAY, against: null });
    const [draft] = await application.database.sql`select id from orders`;
    await desk().owner.post(`/orders/${draft?.id}/confirmation`, {}, { from: `/orders/${draft?.id}` });
    const [confirmed] = await application.database.sql`select confirmed_against_advice_by as by from orders`;
    expect(confirmed?.by).not.toBeNull();
  });
});

describe("what a form says it was advised", () => {
  const fields = (): Fields => ({
    ...{ customer: String(desk().otter), ship_by: "2027-03-02" },
    lines: [[desk().cedar, "36"]],
  });

  async function advisedAfter(advice: Record<string, string>) {
    await desk().owner.post("/orders/new", { ...orderFields(fields()), ...advice }, { from: "/orders/new" });
    const [order] = await application.database.sql`
      select advised_ship_by::text as advised, confirmed_against_advice_by as against from orders`;
    return order;
  }

  it("is kept only as it was given: nobody makes one up, or changes its date", async () => {
    const given = hidden((await askWhileTyping(fields())).body);
    const forged = { ...given, advised_ship_by: "2027-03-01" };
    expect(await advisedAfter(forged)).toEqual({ advised: null, against: null });
  });

  it("is not kept by a new order where it was given for a change of another", async () => {
    const { orderId } = await accept(desk().otter, desk().cedar, 9, WEDNESDAY);
    const given = hidden((await askWhileTyping(fields(), { order: String(orderId) })).body);
    expect(given).toHaveProperty("advised_seal");
    await application.database.sql`delete from order_lines`;
    await application.database.sql`delete from orders`;
    expect(await advisedAfter(given)).toEqual({ advised: null, against: null });
  });

  it("comes along where the form comes back with a mistake in it, and is kept in the end", async () => {
    const asked = { ...orderFields({ ...fields(), customer: "", save: "promise" }) };
    const page = await desk().owner.post("/orders/new", asked, { from: "/orders/new" });
    const mistaken = { ...orderFields({ ...fields(), customer: "" }), ...hidden(page.body) };
    const again = await desk().owner.post("/orders/new", mistaken, { from: "/orders/new" });
    expect(again.statusCode).toBe(422);
    expect(await advisedAfter(hidden(again.body))).toMatchObject({ advised: WEDNESDAY });
  });
});

describe("advice that is kept", () => {
  async function promisedAgainst() {
    const { otter, cedar } = desk();
    const fields: Fields = { customer: String(otter), ship_by: "2027-03-02", lines: [[cedar, "36"]] };
    const { order } = await confirm(fields, hidden((await askWhileTyping(fields)).body));
    expect(order).toMatchObject({ advised: WEDNESDAY, against: "Wren Oddfellow" });
    const [row] = await application.database.sql<{ id: number }[]>`select id from orders`;
    return row?.id ?? 0;
  }

  async function change(orderId: number, given: Partial<Fields>) {
    const { owner, otter, cedar } = desk();
    const page = await owner.get(`/orders/${orderId}/edit`);
    const fields = orderFields({
      ...{ customer: String(otter), terms: "complete", save: "change", reference: "W-101" },
      ...{ ship_by: "2027-03-02", lines: [[cedar, "36"]] },
      ...given,
      seen: /name="seen" value="(\w+)"/.exec(page.body)?.[1] ?? "",
    });
    const send = (seal: string) =>
      owner.post(
        `/orders/${orderId}/edit`,
        {
          ...fields,
          reference: /name="reference"[^>]*value="([^"]*)"/.exec(page.body)?.[1] ?? "",
          effect_shown: seal,
        },
        { from: "/orders/new" },
      );
    const shown = await send("");
    const answer = shown.statusCode === 303 ? shown : await send(effectSeal(shown.body));
    expect(answer.statusCode).toBe(303);
    const [order] = await application.database.sql`
      select advised_ship_by::text as advised, confirmed_against_advice_by is not null as against,
        (select count(*)::integer from changes where what = 'promised against the advice'
          and subject_id = orders.id) as times from orders`;
    return order;
  }

  it("stays while only a note is changed, and is told once", async () => {
    const orderId = await promisedAgainst();
    expect(await change(orderId, { note: "Ring first" })).toEqual({
      ...{ advised: WEDNESDAY, against: true, times: 1 },
    });
  });

  it("names nobody any more once the date is moved to where it is safe", async () => {
    const orderId = await promisedAgainst();
    expect(await change(orderId, { ship_by: WEDNESDAY })).toMatchObject({
      advised: WEDNESDAY,
      against: false,
    });
  });

  it("goes with the lines it was given for", async () => {
    const orderId = await promisedAgainst();
    expect(await change(orderId, { lines: [[desk().cedar, "40"]] })).toMatchObject({
      ...{ advised: null, against: false },
    });
  });
});

describe("a draft's own page", () => {
  it("says by the button when it can be promised, and keeps that beside the order it confirms", async () => {
    const { owner, otter, cedar } = desk();
    const { orderId } = await insertOrder(application.database.db, {
      ...{ customerId: otter, shipBy: "2027-03-02", state: "draft", confirmedAt: null },
      lines: [{ productId: cedar, units: 36 }],
    });
    const place = `/orders/${orderId}`;
    const page = await owner.get(place);
    const asking = inputs(page.body.slice(page.body.indexOf('id="order-form"')));
    expect(asking).toMatchObject({ order: String(orderId), product: String(cedar), units: "36" });
    const advised = await owner.post(
      `${place}/confirmation`,
      { ...asking, save: "promise" },
      { from: place },
    );
    expect(advised.body).toContain("Tuesday 2 March can't be kept safely; Wednesday 3 March can");
    const confirmed = await owner.post(
      `${place}/confirmation`,
      { ...asking, ...hidden(advised.body), save: "confirm" },
      { from: place },
    );
    expect(confirmed.statusCode).toBe(303);
    const [order] = await application.database.sql`select state, advised_ship_by::text as advised,
      confirmed_against_advice_by is not null as against from orders where id = ${orderId}`;
    expect(order).toEqual({ state: "confirmed", advised: WEDNESDAY, against: true });
  });
});

/** What the hidden fields of a form carry. */
function inputs(html: string): Record<string, string> {
  const found = html.matchAll(
    /<input type="hidden" name="(order|customer|ship_by|product|units)" value="([^"]*)"/g,
  );
  return Object.fromEntries([...found].map(([, name = "", value = ""]) => [name, value]));
}

describe("one question at a time", () => {
  it("a newer question of the same form ends the one before; another form's goes on", async () => {
    const { cedar } = desk();
    const { owner } = desk();
    const form = randomUUID();
    const ask = (units: string, formToken: string) =>
      owner.post("/orders/promise", orderFields({ ship_by: "2027-03-01", lines: [[cedar, units]] }), {
        from: "/orders/new",
        formToken,
        headers: typing,
      });
    const answers = await Promise.all([ask("300", form), ask("301", form), ask("302", randomUUID())]);
    const ended = answers.filter(({ body }) => body.includes("A newer question took the place of this one."));
    expect(ended.length).toBe(1);
    expect(ended[0]).not.toBe(answers[2]);
  });
});
