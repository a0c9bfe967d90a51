import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  hereWhenOrdered,
  type LotRule,
  netSupply,
  orderBy,
  withoutBuying,
} from "../../server/supplies/netting.ts";

/** Periods of a textbook become days: period 1 is 1 March 2027, a Monday. */
const day = (period: number) => new Date(Date.UTC(2027, 1, 28 + period, 12)).toISOString().slice(0, 10);
const periodOf = (date: string) =>
  Math.round((Date.parse(`${date}T12:00:00Z`) - Date.UTC(2027, 1, 28, 12)) / 86_400_000);

const amounts = (byPeriod: Readonly<Record<number, number>>) =>
  Object.entries(byPeriod).map(([period, amount]) => ({ on: day(Number(period)), amount }));
const row = (gross: readonly number[]) => gross.map((amount, place) => ({ on: day(place + 1), amount }));
const lots = (amount: number) =>
  amount === 0 ? [] : [{ lotId: 1, amount, receivedOn: "2027-01-01", expiresOn: null }];

const rule = (given: Partial<LotRule> = {}): LotRule => ({
  ...{ packAmount: 1, leastPacks: 1, coverDays: 1, leastOnHand: 0 },
  ...given,
});

/** Gross needs by period, one record of a textbook's table: projected on hand, receipts and releases by period. */
function record(
  gross: readonly number[],
  given: {
    readonly onHand: number;
    readonly receipts?: Readonly<Record<number, number>>;
    readonly lead: number;
  } & Partial<LotRule>,
) {
  const { onHand, receipts = {}, lead, ...lot } = given;
  const books = { lots: lots(onHand), beyond: 0, expected: amounts(receipts) };
  const { dates, purchases } = netSupply(row(gross), books, rule(lot), day(1));
  return {
    onHand: dates.map(({ left }) => left),
    receipts: Object.fromEntries(purchases.map(({ neededOn, amount }) => [periodOf(neededOn), amount])),
    releases: Object.fromEntries(
      purchases.map(({ neededOn, amount }) => [periodOf(orderBy(neededOn, lead, [])), amount]),
    ),
  };
}

/*
 * Worked tables of the textbooks. All are from memory and were recomputed by hand; the data of the seat subassembly and
 * of the five items were checked against a copy.
 */
describe("netting, as the textbooks work it", () => {
  it("is the basic record: lots of fifty, one period ahead (Vollmann, Berry, Whybark & Jacobs)", () => {
    expect(record([0, 10, 0, 40, 10], { onHand: 4, receipts: { 1: 50 }, lead: 1, packAmount: 50 })).toEqual({
      onHand: [54, 44, 44, 4, 44],
      receipts: { 5: 50 },
      releases: { 4: 50 },
    });
  });

  const seats = [150, 0, 0, 120, 0, 150, 120, 0];
  const seatBooks = { onHand: 37, receipts: { 1: 230 }, lead: 2 };

  it("is the seat subassembly by fixed lots of 230 (Krajewski & Ritzman)", () => {
    expect(record(seats, { ...seatBooks, packAmount: 230 })).toEqual({
      onHand: [117, 117, 117, 227, 227, 77, 187, 187],
      receipts: { 4: 230, 7: 230 },
      releases: { 2: 230, 5: 230 },
    });
  });

  it("is the same by the periodic rule, three periods at once", () => {
    expect(record(seats, { ...seatBooks, coverDays: 3 })).toEqual({
      onHand: [117, 117, 117, 150, 150, 0, 0, 0],
      receipts: { 4: 153, 7: 120 },
      releases: { 2: 153, 5: 120 },
    });
  });

  it("is the same lot for lot", () => {
    expect(record(seats, seatBooks)).toEqual({
      onHand: [117, 117, 117, 0, 0, 0, 0, 0],
      receipts: { 4: 3, 6: 150, 7: 120 },
      releases: { 2: 3, 4: 150, 5: 120 },
    });
  });

  it("keeps a safety stock of 80 of it where that is asked for", () => {
    expect(record(seats, { ...seatBooks, leastOnHand: 80, packAmount: 230 }).onHand).toEqual([
      117, 117, 117, 227, 227, 307, 187, 187,
    ]);
  });

  it("goes through five items, level by level: least lots and multiples (Jacobs & Chase)", () => {
    const a = record([0, 30, 0, 0, 30, 0, 0, 40], { onHand: 20, lead: 1 });
    expect(a.releases).toEqual({ 1: 10, 4: 30, 7: 40 });
    const of = (releases: Readonly<Record<number, number>>, times: number) =>
      Array.from({ length: 8 }, (_, place) => (releases[place + 1] ?? 0) * times);
    const plus = (one: readonly number[], other: readonly number[]) =>
      one.map((amount, place) => amount + (other[place] ?? 0));
    const b = record(of(a.releases, 1), { onHand: 0, receipts: { 1: 10 }, lead: 1 });
    expect(b.releases).toEqual({ 3: 30, 6: 40 });
    const c = record(of(a.releases, 2), { onHand: 10, receipts: { 1: 50 }, lead: 1, leastPacks: 50 });
    expect(c.releases).toEqual({ 3: 50, 6: 50 });
    const d = record(plus(of(a.releases, 1), of(c.releases, 2)), { onHand: 20, lead: 2, packAmount: 100 });
    expect(Object.values(d.receipts)).toEqual([100, 100, 100]);
    expect(Object.keys(d.receipts)).toEqual(["3", "4", "6"]);
    const e = record(of(c.releases, 3), { onHand: 10, lead: 2, packAmount: 50 });
    expect(e.releases).toEqual({ 1: 150, 4: 150 });
  });

  it("nets a snow shovel level by level (Vollmann et al.): gross less on hand less on order", () => {
    const net = (gross: number, onHand: number, scheduled: number) =>
      netSupply(
        row([gross]),
        { lots: lots(onHand), beyond: 0, expected: amounts({ 1: scheduled }) },
        rule(),
        day(1),
      ).purchases.reduce((sum, { amount }) => sum + amount, 0);
    expect([
      net(100, 25, 0),
      net(75, 22, 25),
      net(150, 4, 50),
      net(75, 27, 0),
      net(48, 15, 0),
      net(96, 39, 15),
    ]).toEqual([75, 28, 96, 48, 33, 42]);
  });
});

describe("what expires", () => {
  const milk = (expiresOn: string) => [{ lotId: 1, amount: 10, receivedOn: "2027-01-01", expiresOn }];

  it("counts up to its last good day and not after it", () => {
    const books = { lots: milk(day(3)), beyond: 0, expected: [] };
    const onDay = (period: number) => netSupply(amounts({ [period]: 6 }), books, rule(), day(1)).purchases;
    expect(onDay(3)).toEqual([]);
    expect(onDay(4)).toEqual([{ neededOn: day(4), packs: 6, amount: 6 }]);
  });

  it("is used up first, so that what lasts is there later", () => {
    const books = {
      lots: [...milk(day(2)), { lotId: 2, amount: 10, receivedOn: "2027-01-01", expiresOn: null }],
      ...{ beyond: 0, expected: [] },
    };
    expect(netSupply(amounts({ 2: 10, 5: 10 }), books, rule(), day(1)).purchases).toEqual([]);
    expect(netSupply(amounts({ 1: 4, 5: 10, 6: 1 }), books, rule(), day(1)).purchases).toEqual([
      { neededOn: day(6), packs: 1, amount: 1 },
    ]);
  });
});

describe("what is owed and what is overdue", () => {
  it("is taken off what is there until somebody has counted", () => {
    const books = { lots: lots(10), beyond: 4, expected: [] };
    expect(withoutBuying(amounts({ 2: 8 }), books, day(1)).map(({ left }) => left)).toEqual([6, -2]);
  });

  it("is owed to the next delivery where there was less than that", () => {
    const books = { lots: lots(3), beyond: 5, expected: [{ on: day(2), amount: 10 }] };
    expect(withoutBuying(amounts({ 3: 4 }), books, day(1)).map(({ left }) => left)).toEqual([-2, 8, 4]);
  });

  it("is expected on the first day where it should have been here already", () => {
    const books = { lots: [], beyond: 0, expected: [{ on: "2027-02-20", amount: 5 }] };
    expect(netSupply(amounts({ 2: 5 }), books, rule(), day(1)).purchases).toEqual([]);
  });
});

describe("the day to order by", () => {
  it("is so many days before, or the ordering day before that", () => {
    // 12 March 2027 is a Friday; four days before is Monday the 8th.
    expect(orderBy("2027-03-12", 4, [])).toBe("2027-03-08");
    expect(orderBy("2027-03-12", 4, [2, 4])).toBe("2027-03-04");
    expect(orderBy("2027-03-12", 4, [1])).toBe("2027-03-08");
    expect(orderBy("2027-01-02", 3, [3])).toBe("2026-12-30");
  });

  it("tells when it is here if one orders as soon as one can", () => {
    expect(hereWhenOrdered("2027-03-05", 4, [])).toBe("2027-03-09");
    expect(hereWhenOrdered("2027-03-05", 4, [2, 4])).toBe("2027-03-13");
  });
});

describe("whatever is needed, there and on its way", () => {
  const someRule = fc.record({
    packAmount: fc.integer({ min: 1, max: 12 }),
    leastPacks: fc.integer({ min: 1, max: 3 }),
    coverDays: fc.integer({ min: 1, max: 9 }),
    leastOnHand: fc.integer({ min: 0, max: 10 }),
  });
  const dated = fc
    .array(fc.tuple(fc.integer({ min: 0, max: 12 }), fc.integer({ min: 1, max: 30 })), { maxLength: 8 })
    .map((all) => all.map(([period, amount]) => ({ on: day(period), amount })));
  const books = fc.record({
    lots: fc
      .array(fc.tuple(fc.integer({ min: 1, max: 30 }), fc.option(fc.integer({ min: 1, max: 12 }))), {
        maxLength: 4,
      })
      .map((all) =>
        all.map(([amount, good], place) => ({
          ...{ lotId: place + 1, amount, receivedOn: "2027-01-01" },
          expiresOn: good === null ? null : day(good),
        })),
      ),
    beyond: fc.integer({ min: 0, max: 15 }),
    expected: dated,
  });

  it("is there in time, in whole packs, and no purchase could be left out", () => {
    fc.assert(
      fc.property(dated, books, someRule, (needs, known, lotRule) => {
        const { dates, purchases } = netSupply(needs, known, lotRule, day(1));
        for (const { needed, left, on } of dates)
          if (needed > 0 || on === day(1)) expect(left).toBeGreaterThanOrEqual(lotRule.leastOnHand);
        for (const { packs, amount } of purchases) {
          expect(packs).toBeGreaterThanOrEqual(lotRule.leastPacks);
          expect(amount).toBe(packs * lotRule.packAmount);
        }
        // Without any one of them, something falls short.
        for (const left of purchases) {
          const others = purchases.filter((one) => one !== left);
          const arriving = others.map(({ neededOn, amount }) => ({ on: neededOn, amount }));
          const without = withoutBuying(
            needs,
            { ...known, expected: [...known.expected, ...arriving] },
            day(1),
          );
          expect(without.some((date) => date.left < lotRule.leastOnHand)).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
  });

  it("falls short without buying exactly where a purchase is planned first", () => {
    fc.assert(
      fc.property(dated, books, (needs, known) => {
        const [first] = netSupply(needs, known, rule(), day(1)).purchases;
        const short = withoutBuying(needs, known, day(1)).find(
          ({ left, needed, on }) => left < 0 && (needed > 0 || on === day(1)),
        );
        expect(first?.neededOn).toBe(short?.on);
      }),
      { numRuns: 500 },
    );
  });
});
