import { randomUUID } from "node:crypto";
import type { TransactionSql } from "postgres";
import { describe, expect, it } from "vitest";
import { insertOrder, insertReadyLot } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { onShelf } from "../packing/workroom.ts";
import { effectSeal, useDesk } from "./desk.ts";

const { application, desk } = useDesk();

const confirm = (orderId: number, formToken: string = randomUUID()) =>
  send(orderId, "confirmation", formToken);
const cancel = async (orderId: number) => cancelAsShown(orderId, await sealFor(orderId));
const cancelAsShown = (orderId: number, seal: string) =>
  send(orderId, "cancellation", randomUUID(), { effect_shown: seal });

async function sealFor(orderId: number): Promise<string> {
  return effectSeal((await desk().owner.get(`/orders/${orderId}/cancellation`)).body);
}

async function send(orderId: number, what: string, formToken: string, fields: Record<string, string> = {}) {
  return desk().owner.post(`/orders/${orderId}/${what}`, fields, { from: "/orders/new", formToken });
}

async function order(given: Partial<Parameters<typeof insertOrder>[1]> = {}) {
  const { otter, cedar } = desk();
  return insertOrder(application.database.db, {
    customerId: otter,
    lines: [{ productId: cedar, units: 36 }],
    ...given,
  });
}

async function stateOf(orderId: number): Promise<string> {
  const [row] = await application.database.sql`select state from orders where id = ${orderId}`;
  return row?.state;
}

async function packed(units: number, state: "packing" | "packed" = "packing") {
  const { cedar } = desk();
  const packedAt = state === "packed" ? new Date("2027-03-01T09:00:00Z") : null;
  const { orderId, lineIds } = await order({ state, packedAt });
  const lotId = await insertReadyLot(application.database.db, { productId: cedar, units: 40 });
  await application.database.sql`insert into moves (lot_id, kind, units, order_line_id, at)
    values (${lotId}, 'packed', ${-units}, ${lineIds[0] ?? 0}, '2027-03-01T09:00:00Z')`;
  return { orderId, lotId, lineId: lineIds[0] ?? 0 };
}

describe("confirming a draft", () => {
  const draft = { state: "draft", confirmedAt: null } as const;

  it("promises it, once", async () => {
    const { orderId } = await order(draft);
    const formToken = randomUUID();
    const answers = [await confirm(orderId, formToken), await confirm(orderId, formToken)];
    expect(answers.map((answer) => answer.statusCode)).toEqual([303, 303]);
    const [row] = await application.database.sql`select state, confirmed_at from orders`;
    expect(row).toEqual({ state: "confirmed", confirmed_at: new Date("2027-03-01T08:00:00Z") });
    expect(
      await application.database.sql`select 1 from changes
      where what = 'confirmed' and subject_id = ${orderId}`,
    ).toHaveLength(1);
  });

  it("answers a second confirmation with how it stands", async () => {
    const { orderId } = await order();
    const answer = await confirm(orderId);
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("This order is no longer a draft: it is confirmed.");
  });

  it("refuses a date that has gone by", async () => {
    const { orderId } = await order({ ...draft, shipBy: "2027-02-26" });
    const answer = await confirm(orderId);
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain(
      "That date has gone by; today is Monday 1 March. Change the date, then confirm.",
    );
    expect(await stateOf(orderId)).toBe("draft");
  });
});

describe("cancelling", () => {
  it("asks first and says what goes back to the shelf", async () => {
    const { orderId } = await packed(30);
    const order = await desk().owner.get(`/orders/${orderId}`);
    expect(order.body).toContain(`<a href="/orders/${orderId}/cancellation">Cancel the order …</a>`);
    const page = await desk().owner.get(`/orders/${orderId}/cancellation`);
    expect(page.body).toContain("The 30 pieces in its box go back to the shelf.");
    expect(await stateOf(orderId)).toBe("packing");
  });

  it.each(["packing", "packed"] as const)(
    "puts the pieces of a %s order back on the shelf",
    async (state) => {
      const { orderId, lotId } = await packed(30, state);
      expect(await onShelf(application.database, lotId)).toBe(10);
      expect((await cancel(orderId)).statusCode).toBe(303);
      expect(await stateOf(orderId)).toBe("cancelled");
      expect(await onShelf(application.database, lotId)).toBe(40);
      const [move] = await application.database
        .sql`select kind, units, person_id is not null as known from moves order by id desc limit 1`;
      expect(move).toEqual({ kind: "unpacked", units: 30, known: true });
    },
  );

  it("puts back every lot of every line, and only what is still packed", async () => {
    const { otter, cedar, oat } = desk();
    const { db, sql } = application.database;
    const lines = [
      { productId: cedar, units: 36 },
      { productId: oat, units: 12 },
    ];
    const { orderId, lineIds } = await insertOrder(db, { customerId: otter, state: "packing", lines });
    const lotIds = [
      await insertReadyLot(db, { productId: cedar, units: 20, code: "AAA" }),
      await insertReadyLot(db, { productId: cedar, units: 20, code: "BBB" }),
      await insertReadyLot(db, { productId: oat, units: 12, code: "CCC" }),
    ];
    const moves = [
      [0, 0, -20],
      [1, 0, -16],
      [2, 1, -12],
      [2, 1, 5],
    ] as const;
    for (const [lot, line, units] of moves)
      await sql`insert into moves (lot_id, kind, units, order_line_id, at)
        values (${lotIds[lot] ?? 0}, ${units < 0 ? "packed" : "unpacked"}, ${units}, ${lineIds[line] ?? 0}, now())`;
    await cancel(orderId);
    expect(await Promise.all(lotIds.map((lotId) => onShelf(application.database, lotId)))).toEqual([
      20, 20, 12,
    ]);
    const [change] = await sql`select after from changes
      where what = 'cancelled' and subject_id = ${orderId}`;
    expect(change?.after).toEqual({ backOnShelf: 43 });
    expect((await desk().owner.get(`/orders/${orderId}`)).body).toContain(
      "cancelled, 43 pieces back on the shelf",
    );
  });

  it("is refused once a part has left, with the way out", async () => {
    const { orderId, lotId, lineId } = await packed(30);
    const { sql } = application.database;
    const [delivery] = await sql<{ id: number }[]>`insert into deliveries (order_id, how, state, shipped_at)
      values (${orderId}, 'parcel', 'shipped', now()) returning id`;
    await sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
      values (${delivery?.id ?? 0}, ${lineId}, ${lotId}, 12)`;
    const page = await desk().owner.get(`/orders/${orderId}`);
    expect(page.body).not.toContain("/cancellation");
    expect(page.body).toContain("cut its lines to what has left");
    const answer = await cancel(orderId);
    expect(answer.statusCode).toBe(409);
    expect(answer.body).toContain("12 pieces of this order have left already, so it cannot be cancelled.");
    expect([await stateOf(orderId), await onShelf(application.database, lotId)]).toEqual(["packing", 10]);
  });

  it("happens once when two people do it at the same moment", async () => {
    const { orderId, lotId } = await packed(30);
    const held = (gate: TransactionSql) => gate`select 1 from orders where id = ${orderId} for update`;
    const seal = await sealFor(orderId);
    const answers = await overlapping(application.database.sql, held, [
      () => cancelAsShown(orderId, seal),
      () => cancelAsShown(orderId, seal),
    ]);
    expect(answers.map((answer) => answer.statusCode).toSorted()).toEqual([303, 409]);
    expect(await onShelf(application.database, lotId)).toBe(40);
  });
});

it("answers 404 for an order that is not there, and for a number that is none", async () => {
  for (const id of ["999", "0", "abc", "1e3", "99999999999"])
    for (const page of [`/orders/${id}`, `/orders/${id}/edit`])
      expect((await desk().owner.get(page)).statusCode).toBe(404);
  expect((await cancel(999)).statusCode).toBe(404);
});
