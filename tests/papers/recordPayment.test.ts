import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { minorUnits } from "../../server/money/minorUnits.ts";
import type { PaymentForm } from "../../server/papers/forms.ts";
import { recordPayment, takeBackPayment } from "../../server/papers/recordPayment.ts";
import { writeInvoice } from "../../server/papers/writeInvoice.ts";
import { insertPerson, insertWorkshop } from "../build/rows.ts";
import { overlapping } from "../db/overlapping.ts";
import { useDatabase } from "../db/testDatabase.ts";
import { carriesOut, emptyCountingRoom, given, insertPricedOrder } from "./countingRoom.ts";

const APRIL = new Date("2027-04-15T12:00:00Z");

const database = useDatabase();
let run: ReturnType<typeof carriesOut>;
let invoiceId: number;

beforeAll(async () => {
  await insertWorkshop(database.db);
  run = carriesOut(database, await insertPerson(database.db, { name: "Wren Oddfellow", role: "owner" }));
});

/** An invoice of 100.00 of 1 March, 2 % less by 11 March. */
beforeEach(async () => {
  const range = await emptyCountingRoom(database, { earlyDiscountBasisPoints: 200, earlyDiscountDays: 10 });
  const { orderId } = await insertPricedOrder(database, range, {
    lines: [{ units: 10, unitPriceMinor: 1000 }],
  });
  invoiceId = given(await run(writeInvoice, { orderId, basis: "whole" })).invoiceId;
});

const enter = (amount: number, entry: Partial<PaymentForm> = {}) =>
  run(
    recordPayment,
    {
      ...{
        invoiceId,
        kind: "received" as const,
        amount: minorUnits(amount),
        paidOn: "2027-03-10",
        words: "",
        beyond: false,
      },
      ...entry,
    },
    APRIL,
  );

async function open(): Promise<number> {
  const [row] = await database.sql`select open_minor from invoice_balances where invoice_id = ${invoiceId}`;
  return Number(row?.open_minor);
}

const refusal = async (answer: ReturnType<typeof enter>) => {
  const given = await answer;
  return given.ok ? "taken" : given.refusal;
};

describe("a payment", () => {
  it("is entered in parts until nothing is open", async () => {
    given(await enter(2500));
    expect(await open()).toBe(7500);
    given(await enter(7500));
    expect(await open()).toBe(0);
  });

  it("of more than is open is taken only where it is said that it is more", async () => {
    expect(await refusal(enter(10_001))).toEqual({
      why: "more-than-open",
      openMinor: 10_000,
      currency: "EUR",
    });
    expect(await open()).toBe(10_000);
    given(await enter(10_001, { beyond: true }));
    expect(await open()).toBe(-1);
  });

  it("does not settle twice what two enter at once", async () => {
    const answers = await overlapping(
      database.sql,
      (gate) => gate`select from invoices where id = ${invoiceId} for update`,
      [() => enter(10_000), () => enter(10_000)],
    );
    expect(answers.filter(({ ok }) => ok).length).toBe(1);
    expect(await open()).toBe(0);
  });

  it("of a day to come is not taken", async () => {
    expect(await refusal(enter(100, { paidOn: "2027-04-16" }))).toEqual({ why: "not-paid-yet" });
    expect(await refusal(enter(100, { paidOn: "2027-04-15" }))).toBe("taken");
  });

  it("that was a mistake is taken back once, by a counter entry beside it", async () => {
    given(await enter(2500));
    const [entry] = await database.sql`select id from payments`;
    const takeBack = (paymentId: number) => run(takeBackPayment, { invoiceId, paymentId }, APRIL);
    given(await takeBack(entry?.id));
    expect(await open()).toBe(10_000);
    const rows = await database.sql`select id, amount_minor, takes_back_id from payments order by id`;
    expect(rows).toMatchObject([
      { amount_minor: "2500", takes_back_id: null },
      { amount_minor: "-2500", takes_back_id: entry?.id },
    ]);
    expect(await takeBack(entry?.id)).toEqual({ ok: false, refusal: { why: "taken-back" } });
    expect(await takeBack(rows[1]?.id)).toEqual({ ok: false, refusal: { why: "is-counter-entry" } });
    expect(await takeBack(9999)).toEqual({ ok: false, refusal: { why: "not-found" } });
  });

  it("is kept as it was entered, whoever tries", async () => {
    given(await enter(2500));
    const { sql } = database;
    await expect(sql`update payments set amount_minor = 1`).rejects.toMatchObject({ code: "23001" });
    await expect(sql`delete from payments`).rejects.toMatchObject({ code: "23001" });
    await expect(sql`insert into payments (invoice_id, kind, amount_minor, paid_on, takes_back_id, at)
      select invoice_id, kind, -1, paid_on, id, at from payments`).rejects.toMatchObject({
      constraint_name: "payments_taken_back_whole",
    });
  });
});

describe("the discount for paying early", () => {
  it("is had by its date, as far as it was offered", async () => {
    const early = { kind: "early-discount" } as const;
    expect(await refusal(enter(201, early))).toEqual({
      why: "more-than-offered",
      leftMinor: 200,
      currency: "EUR",
    });
    expect(await refusal(enter(200, { ...early, paidOn: "2027-03-12" }))).toEqual({
      ...{ why: "too-late-for-discount", until: "2027-03-11" },
    });
    given(await enter(9800));
    given(await enter(200, { ...early, paidOn: "2027-03-11" }));
    expect(await open()).toBe(0);
    await expect(database.sql`insert into payments (invoice_id, kind, amount_minor, paid_on, at)
      values (${invoiceId}, 'early-discount', 1, '2027-03-11', now())`).rejects.toMatchObject({
      constraint_name: "payments_early_discount_as_offered",
    });
  });
});

describe("what is let off or paid back", () => {
  it("is never more than is open, or in the customer's favour", async () => {
    given(await enter(9990));
    expect(await refusal(enter(11, { kind: "let-off", beyond: true }))).toEqual({
      ...{ why: "nothing-to-let-off", openMinor: 10, currency: "EUR" },
    });
    given(await enter(10, { kind: "let-off" }));
    expect(await refusal(enter(1, { kind: "paid-back" }))).toEqual({
      ...{ why: "nothing-to-pay-back", favourMinor: 0, currency: "EUR" },
    });
    given(await enter(500, { beyond: true }));
    given(await enter(500, { kind: "paid-back" }));
    expect(await open()).toBe(0);
  });
});
