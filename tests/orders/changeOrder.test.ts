import type { TransactionSql } from "postgres";
import { describe, expect, it } from "vitest";
import { insertOrder, insertReadyLot } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { onShelf } from "../packing/workroom.ts";
import { effectSeal, orderFields, ordersNow, useDesk } from "./desk.ts";

const { application, desk } = useDesk();

/** A confirmed order of the Lamplit Otter for 36 cedar and 24 oat balls. */
async function standingOrder(state: "draft" | "confirmed" | "packing" = "confirmed") {
  const { otter, cedar, oat } = desk();
  return insertOrder(application.database.db, {
    customerId: otter,
    state,
    confirmedAt: state === "draft" ? null : new Date("2027-03-01T07:00:00Z"),
    lines: [
      { productId: cedar, units: 36 },
      { productId: oat, units: 24 },
    ],
  });
}

async function pack(lineId: number | undefined, lotId: number, units: number) {
  await application.database.sql`insert into moves (lot_id, kind, units, order_line_id, at)
    values (${lotId}, 'packed', ${-units}, ${lineId ?? 0}, '2027-03-01T09:00:00Z')`;
}

async function unpack(lineId: number | undefined, lotId: number, units: number) {
  await application.database.sql`insert into moves (lot_id, kind, units, order_line_id, at)
    values (${lotId}, 'unpacked', ${units}, ${lineId ?? 0}, '2027-03-01T10:00:00Z')`;
}

/** A part delivery that has left, and perhaps arrived. */
async function ship(
  orderId: number,
  lineId: number | undefined,
  lotId: number,
  units: number,
  arrived: boolean,
) {
  const [delivery] = await application.database.sql<{ id: number }[]>`
    insert into deliveries (order_id, how, state, shipped_at, delivered_at) values (${orderId}, 'parcel',
      ${arrived ? "delivered" : "shipped"}, '2027-03-01T11:00:00Z', ${arrived ? "2027-03-01T15:00:00Z" : null}) returning id`;
  await application.database.sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
    values (${delivery?.id ?? 0}, ${lineId ?? 0}, ${lotId}, ${units})`;
}

/** The form as the browser got it: what it was made from goes along with what is changed. */
async function formOf(orderId: number) {
  const page = await desk().owner.get(`/orders/${orderId}/edit`);
  return /name="seen" value="([0-9a-f]{32})"/.exec(page.body)?.[1] ?? "no form";
}

async function change(orderId: number, seen: string, given: Partial<Parameters<typeof orderFields>[0]>) {
  const { owner, otter, cedar, oat } = desk();
  const fields = orderFields({
    reference: "W-104",
    customer: String(otter),
    terms: "complete",
    lines: [
      [cedar, "36"],
      [oat, "24"],
    ],
    ...given,
    seen,
  });
  const send = (more: Record<string, string>) =>
    owner.post(`/orders/${orderId}/edit`, { ...fields, ...more }, { from: "/orders/new" });
  const answer = await send({});
  // What it does to the plan is shown first; from there it is sent again.
  const seal = effectSeal(answer.body);
  return seal === "" ? answer : send({ effect_shown: seal });
}

describe("changing an order", () => {
  it("is filled in with what the order holds and a line more", async () => {
    const { orderId } = await standingOrder();
    const page = await desk().owner.get(`/orders/${orderId}/edit`);
    expect(page.body).toContain('value="W-104"');
    expect(page.body).toContain('value="36"');
    expect(page.body.match(/name="units"/g)).toHaveLength(3);
  });

  it("puts the new content in place and tells what changed", async () => {
    const { orderId } = await standingOrder();
    const { heron, cedar, tea } = desk();
    const answer = await change(orderId, await formOf(orderId), {
      reference: "W-777",
      customer: String(heron),
      terms: "as-ready",
      ship_by: "2027-03-08",
      note: "Ring first",
      lines: [
        [cedar, "12"],
        [tea, "8"],
      ],
    });
    expect([answer.statusCode, answer.headers.location]).toEqual([303, `/orders/${orderId}`]);
    expect(await ordersNow(application)).toEqual([
      "W-777 confirmed as-ready 2027-03-08: 12 Cedar ball, 8 Black tea ball",
    ]);
    const page = await desk().owner.get(`/orders/${orderId}`);
    expect(page.body).toContain(
      "changed: reference W-104 → W-777; customer The Lamplit Otter → Heron &amp; Thimble; " +
        "delivery one whole delivery → part deliveries as pieces are ready; ship-by Fri 5 Mar → Mon 8 Mar; note; " +
        "Cedar ball 36 → 12; Oat ball 24 → none; Black tea ball none → 8",
    );
    expect(page.body).toContain("Wren Oddfellow");
  });

  it("lets a date that has gone by stay, but takes no other one before today", async () => {
    const { orderId } = await standingOrder();
    await application.database.sql`update orders set ship_by = '2027-02-24'`;
    const seen = await formOf(orderId);
    const moved = await change(orderId, seen, { ship_by: "2027-02-26" });
    expect([moved.statusCode, moved.body.includes("That date has gone by")]).toEqual([422, true]);
    expect((await change(orderId, seen, { ship_by: "2027-02-24", note: "Sorry" })).statusCode).toBe(303);
  });

  it.each(["packed", "shipped", "delivered", "cancelled"])(
    "refuses a %s order and says so",
    async (state) => {
      const { orderId } = await standingOrder();
      const seen = await formOf(orderId);
      await application.database.sql`update orders set state = ${state},
      packed_at = case when ${state} <> 'cancelled' then now() end, shipped_at = case when ${state} in ('shipped', 'delivered') then now() end,
      delivered_at = case when ${state} = 'delivered' then now() end, cancelled_at = case when ${state} = 'cancelled' then now() end`;
      const answer = await change(orderId, seen, { note: "Too late" });
      expect(answer.statusCode).toBe(409);
      expect(answer.body).toContain(`This order is ${state} and can no longer be changed.`);
      expect((await desk().owner.get(`/orders/${orderId}/edit`)).statusCode).toBe(409);
    },
  );
});

describe("changed by two people at once", () => {
  it("shows the second how it stands now, keeps what she typed, and takes it when she sends it again", async () => {
    const { orderId } = await standingOrder();
    const { cedar } = desk();
    const seen = await formOf(orderId);
    await change(orderId, seen, { ship_by: "2027-03-09" });
    const second = await change(orderId, seen, { lines: [[cedar, "48"]] });
    expect(second.statusCode).toBe(409);
    expect(second.body).toContain("Somebody changed this order while you were at it.");
    expect(second.body).toContain("by Tuesday 9 March");
    expect(second.body).toContain('value="48"');
    expect(await ordersNow(application)).toEqual([
      "W-104 confirmed complete 2027-03-09: 36 Cedar ball, 24 Oat ball",
    ]);
    const renewed = /name="seen" value="([0-9a-f]{32})"/.exec(second.body)?.[1] ?? "";
    expect((await change(orderId, renewed, { lines: [[cedar, "48"]] })).statusCode).toBe(303);
    expect(await ordersNow(application)).toEqual(["W-104 confirmed complete 2027-03-05: 48 Cedar ball"]);
  });

  it("lets only one of two through that arrive at the same moment", async () => {
    const { orderId } = await standingOrder();
    const seen = await formOf(orderId);
    const held = (gate: TransactionSql) => gate`select 1 from orders where id = ${orderId} for update`;
    const answers = await overlapping(
      application.database.sql,
      held,
      // Changes that nobody else feels are done at once, without a look at what they do.
      ["Ring first", "Ring twice"].map((note) => () => change(orderId, seen, { note })),
    );
    expect(answers.map((answer) => answer.statusCode).toSorted()).toEqual([303, 409]);
  });

  it("notices that a draft was confirmed meanwhile", async () => {
    const { orderId } = await standingOrder("draft");
    const seen = await formOf(orderId);
    await desk().owner.post(`/orders/${orderId}/confirmation`, {}, { from: "/orders/new" });
    expect((await change(orderId, seen, { note: "Only a draft, I thought" })).statusCode).toBe(409);
  });
});

describe("while it is being packed", () => {
  it("never goes below what is packed, and keeps reference, customer and delivery", async () => {
    const { cedar, oat, heron } = desk();
    const { orderId, lineIds } = await standingOrder("packing");
    const lotId = await insertReadyLot(application.database.db, { productId: cedar, units: 40 });
    await pack(lineIds[0], lotId, 20);
    const seen = await formOf(orderId);
    const below = await change(orderId, seen, {
      lines: [
        [oat, "24"],
        [cedar, "19"],
      ],
    });
    expect([below.statusCode, below.body.includes("20 pieces of Cedar ball are packed already.")]).toEqual([
      422,
      true,
    ]);
    const gone = await change(orderId, seen, { lines: [[oat, "24"]] });
    expect([gone.statusCode, gone.body.includes("Keep its line")]).toEqual([422, true]);
    for (const head of [{ reference: "W-1" }, { customer: String(heron) }, { terms: "as-ready" }])
      expect((await change(orderId, seen, head)).statusCode).toBe(422);
    const allowed = { lines: [[cedar, "20"]] as const, ship_by: "2027-03-08" };
    expect((await change(orderId, seen, allowed)).statusCode).toBe(303);
    expect(await ordersNow(application)).toEqual(["W-104 packing complete 2027-03-08: 20 Cedar ball"]);
  });

  it("strikes a line that had pieces once, though the ledger remembers them", async () => {
    const { cedar, oat } = desk();
    const { orderId, lineIds } = await standingOrder("packing");
    const lotId = await insertReadyLot(application.database.db, { productId: oat, units: 12 });
    await pack(lineIds[1], lotId, 12);
    await unpack(lineIds[1], lotId, 12);
    const answer = await change(orderId, await formOf(orderId), { lines: [[cedar, "36"]] });
    expect(answer.statusCode).toBe(303);
    expect((await desk().owner.get(`/orders/${orderId}`)).body).not.toContain("/shelf/");
    expect(await onShelf(application.database, lotId)).toBe(12);
    const page = await desk().owner.get(`/orders/${orderId}/edit`);
    expect(page.body.match(/name="units"/g)).toHaveLength(2);
  });

  it.each([
    [false, "shipped"],
    [true, "delivered"],
  ])("is done when it is cut to what has left already (arrived: %s)", async (arrived, state) => {
    const { cedar } = desk();
    const { orderId, lineIds } = await standingOrder("packing");
    const lotId = await insertReadyLot(application.database.db, { productId: cedar, units: 20 });
    await pack(lineIds[0], lotId, 20);
    await ship(orderId, lineIds[0], lotId, 20, arrived);
    await change(orderId, await formOf(orderId), { lines: [[cedar, "20"]] });
    expect(await ordersNow(application)).toEqual([`W-104 ${state} complete 2027-03-05: 20 Cedar ball`]);
    const [times] = await application.database.sql`select packed_at, shipped_at, delivered_at from orders`;
    expect(times).toEqual({
      packed_at: new Date("2027-03-01T09:00:00Z"),
      shipped_at: new Date("2027-03-01T11:00:00Z"),
      delivered_at: arrived ? new Date("2027-03-01T15:00:00Z") : null,
    });
  });
});
