import { randomUUID } from "node:crypto";
import { beforeEach, describe, expect, it } from "vitest";
import { headingOf } from "../build/pageText.ts";
import { insertOrder, insertReadyLot } from "../build/rows.ts";
import { effectSeal, orderFields, ordersNow, useDesk } from "./desk.ts";

const { application, desk } = useDesk();

const AS_IT_WAS = "W-104 confirmed complete 2027-03-05: 36 Cedar ball";
let orderId = 0;

beforeEach(async () => {
  ({ orderId } = await confirmed("W-104", 36));
});

function confirmed(reference: string, units: number) {
  const { otter, cedar } = desk();
  const lines = [{ productId: cedar, units }];
  return insertOrder(application.database.db, { customerId: otter, reference, lines });
}

const cancel = (seal: string, formToken: string = randomUUID()) =>
  desk().owner.post(
    `/orders/${orderId}/cancellation`,
    { effect_shown: seal },
    { from: "/orders/new", formToken },
  );

/** The form of a change as the browser has it, filled in with what the order holds but for what is given. */
async function changeFields(given: { units?: string; note?: string }) {
  const { owner, otter, cedar } = desk();
  const page = await owner.get(`/orders/${orderId}/edit`);
  const { units = "36", note = "" } = given;
  return orderFields({
    ...{ reference: "W-104", customer: String(otter), terms: "complete", note, save: "change" },
    seen: /name="seen" value="(\w+)"/.exec(page.body)?.[1] ?? "",
    lines: [[cedar, units]],
  });
}

const change = (fields: Awaited<ReturnType<typeof changeFields>>, seal?: string, formToken?: string) =>
  desk().owner.post(
    `/orders/${orderId}/edit`,
    seal === undefined ? fields : { ...fields, effect_shown: seal },
    { from: "/orders/new", ...(formToken === undefined ? {} : { formToken }) },
  );

describe("cancelling a confirmed order", () => {
  it("sent without having looked is not done, but shows what it does; from there it is", async () => {
    const shown = await cancel("");
    expect([shown.statusCode, headingOf(shown.body)]).toEqual([
      200,
      "If W-104 is cancelled: there is nothing to plan, so whom it moves can't be said.",
    ]);
    expect(await ordersNow(application)).toEqual([AS_IT_WAS]);
    expect((await cancel(effectSeal(shown.body))).statusCode).toBe(303);
    expect(await ordersNow(application)).toEqual([AS_IT_WAS.replace("confirmed", "cancelled")]);
  });

  it("with a seal of somebody's own making, or of another order, is not done", async () => {
    const other = await confirmed("W-105", 12);
    const page = await desk().owner.get(`/orders/${other.orderId}/cancellation`);
    for (const seal of ["x".repeat(43), "é".repeat(43), effectSeal(page.body)]) {
      const shown = await cancel(seal);
      expect([shown.statusCode, shown.body.includes("something has changed since you looked")]).toEqual([
        409,
        true,
      ]);
    }
    expect(await ordersNow(application)).toContain(AS_IT_WAS);
  });

  it("shows anew what it does where somebody else was promised something meanwhile", async () => {
    const page = await desk().owner.get(`/orders/${orderId}/cancellation`);
    await confirmed("W-105", 12);
    const shown = await cancel(effectSeal(page.body));
    expect(shown.statusCode).toBe(409);
    expect(await ordersNow(application)).toContain(AS_IT_WAS);
    expect((await cancel(effectSeal(shown.body))).statusCode).toBe(303);
  });

  it("is not held up by the clock, nor by pieces that are packed for others", async () => {
    const { lineIds } = await confirmed("W-105", 12);
    const lotId = await insertReadyLot(application.database.db, { productId: desk().cedar, units: 40 });
    const page = await desk().owner.get(`/orders/${orderId}/cancellation`);
    await application.database.sql`insert into moves (lot_id, kind, units, order_line_id, at)
      values (${lotId}, 'packed', -5, ${lineIds[0] ?? 0}, '2027-03-01T09:00:00Z')`;
    application.clock.set("2027-03-01T09:30:00Z");
    try {
      expect((await cancel(effectSeal(page.body))).statusCode).toBe(303);
    } finally {
      application.clock.set("2027-03-01T08:00:00Z");
    }
  });

  it("sent twice is done once", async () => {
    const page = await desk().owner.get(`/orders/${orderId}/cancellation`);
    const formToken = randomUUID();
    for (const _ of ["first", "again"])
      expect((await cancel(effectSeal(page.body), formToken)).headers.location).toBe(`/orders/${orderId}`);
    expect(
      await application.database.sql`select 1 from changes where what = 'cancelled'
      and subject_id = ${orderId}`,
    ).toHaveLength(1);
  });
});

describe("changing a confirmed order", () => {
  it("sent without having looked is not done, but shows what it does; from there it is, once", async () => {
    const fields = await changeFields({ units: "48" });
    const shown = await change(fields);
    expect([shown.statusCode, headingOf(shown.body)]).toEqual([
      200,
      "If W-104 changes so: there is nothing to plan, so whom it moves can't be said.",
    ]);
    expect(await ordersNow(application)).toEqual([AS_IT_WAS]);
    const formToken = randomUUID();
    for (const _ of ["first", "again"])
      expect((await change(fields, effectSeal(shown.body), formToken)).statusCode).toBe(303);
    expect(await ordersNow(application)).toEqual([AS_IT_WAS.replace("36", "48")]);
  });

  it("shows anew what it does where it is another change than the one that was shown", async () => {
    const shown = await change(await changeFields({ units: "48" }));
    const answer = await change(await changeFields({ units: "49" }), effectSeal(shown.body));
    expect([answer.statusCode, answer.body.includes("something has changed since you looked")]).toEqual([
      409,
      true,
    ]);
    expect(await ordersNow(application)).toEqual([AS_IT_WAS]);
  });

  it("asks nothing of the workshop where only a note is changed, and is done at once", async () => {
    expect((await change(await changeFields({ note: "Ring first" }))).statusCode).toBe(303);
  });

  it("says what is wrong with it before what it would do", async () => {
    await confirmed("W-105", 12);
    const fields = await changeFields({ units: "48" });
    const answer = await change({ ...fields, reference: "W-105" });
    expect([answer.statusCode, answer.body.includes("W-105 is taken by another order.")]).toEqual([
      422,
      true,
    ]);
  });
});
