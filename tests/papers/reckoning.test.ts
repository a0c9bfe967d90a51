import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { minorUnits } from "../../server/money/minorUnits.ts";
import { orderTotals } from "../../server/money/orderTotals.ts";
import { ageOf, daysOverdue, standingOn } from "../../server/papers/ageing.ts";
import { dueDates } from "../../server/papers/dueDates.ts";
import { shareOfUnits } from "../../server/papers/shareOfUnits.ts";
import { paperNumber } from "../../views/format/paperNumber.ts";

const amounts = (net: number, tax: number) => ({
  ...{ amountMinor: minorUnits(net), orderDiscountMinor: minorUnits(0), netMinor: minorUnits(net) },
  ...{ taxMinor: minorUnits(tax), grossMinor: minorUnits(net + tax) },
});

describe("the money of a part of a line", () => {
  // 3 pieces for 10.00 and 2.00 tax: a third is 3.33⅓ and 0.66⅔, two thirds 6.66⅔ and 1.33⅓.
  it("is what there is so far, rounded, less what was there before", () => {
    const line = { units: 3, amounts: amounts(1000, 200), pricesIncludeTax: false };
    const parts = [0, 1, 2].map((from) => shareOfUnits(line, from, from + 1));
    expect(parts.map(({ netMinor, taxMinor, grossMinor }) => [netMinor, taxMinor, grossMinor])).toEqual([
      [333, 67, 400],
      [334, 66, 400],
      [333, 67, 400],
    ]);
  });

  it("is the line itself where the whole line is taken", () => {
    const line = { units: 7, amounts: amounts(1001, 203), pricesIncludeTax: false };
    expect(shareOfUnits(line, 0, 7)).toEqual(line.amounts);
  });

  it("is of pieces the line has", () => {
    const line = { units: 3, amounts: amounts(1000, 200), pricesIncludeTax: false };
    for (const [from, to] of [
      [-1, 1],
      [2, 1],
      [0, 4],
    ] as const)
      expect(() => shareOfUnits(line, from, to)).toThrow(RangeError);
  });

  it("adds up to the order, however it is rounded, taxed, discounted and parted", () => {
    const line = fc.record({
      units: fc.integer({ min: 1, max: 400 }),
      unitPriceMinor: fc.integer({ min: 0, max: 200_000 }).map(minorUnits),
      discountBasisPoints: fc.integer({ min: 0, max: 10_000 }),
      taxPpm: fc.constantFrom(0, 55_000, 88_750, 190_000, 1_000_000),
    });
    const order = fc.record({
      lines: fc.array(line, { minLength: 1, maxLength: 5 }),
      discountBasisPoints: fc.constantFrom(0, 0, 333, 2500),
      shippingMinor: fc.constant(minorUnits(790)),
      shippingTaxPpm: fc.constant(190_000),
      pricesIncludeTax: fc.boolean(),
      rounding: fc.constantFrom("line" as const, "order" as const),
    });
    fc.assert(
      fc.property(order, fc.array(fc.integer({ min: 0, max: 1000 }), { maxLength: 4 }), (asked, cuts) => {
        for (const [place, amounts] of orderTotals(asked).lines.entries()) {
          const units = asked.lines[place]?.units ?? 1;
          const ends = [...cuts.map((cut) => Math.floor((cut * units) / 1000)), units].sort(
            (one, other) => one - other,
          );
          const line = { units, amounts, pricesIncludeTax: asked.pricesIncludeTax };
          const parts = ends.map((end, at) => shareOfUnits(line, ends[at - 1] ?? 0, end));
          for (const sum of [
            "amountMinor",
            "orderDiscountMinor",
            "netMinor",
            "taxMinor",
            "grossMinor",
          ] as const)
            expect(parts.reduce((total, part) => total + part[sum], 0)).toBe(amounts[sum]);
          for (const { netMinor, taxMinor, grossMinor } of parts) {
            expect(netMinor + taxMinor).toBe(grossMinor);
            expect(grossMinor).toBeGreaterThanOrEqual(0);
          }
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe("when an invoice is due", () => {
  // Common practice, no source: calendar days after the invoice's date, which is not itself counted.
  const terms = { netDays: 30, earlyDiscountBasisPoints: 0, earlyDiscountDays: 0 };

  it("is 30 calendar days after it was written: of 15 January on 14 February", () => {
    expect(dueDates("2027-01-15", terms, minorUnits(1000))).toEqual({ dueOn: "2027-02-14", early: null });
    expect(dueDates("2028-02-01", terms, minorUnits(1000)).dueOn).toBe("2028-03-02");
    expect(dueDates("2027-12-31", { ...terms, netDays: 0 }, minorUnits(1000)).dueOn).toBe("2027-12-31");
  });

  it("offers 2 % of the whole within 10 days, a half minor unit rounded up", () => {
    const early = { ...terms, earlyDiscountBasisPoints: 200, earlyDiscountDays: 10 };
    expect(dueDates("2027-01-25", early, minorUnits(1025))).toEqual({
      dueOn: "2027-02-24",
      early: { basisPoints: 200, until: "2027-02-04", discountMinor: 21 },
    });
  });
});

describe("how old something open is", () => {
  it("changes after its due date, and then every thirty days", () => {
    const ages = [
      ["2027-03-01", 0, "not-due"],
      ["2027-03-02", 1, "to-30"],
      ["2027-03-31", 30, "to-30"],
      ["2027-04-01", 31, "to-60"],
      ["2027-04-30", 60, "to-60"],
      ["2027-05-01", 61, "to-90"],
      ["2027-05-30", 90, "to-90"],
      ["2027-05-31", 91, "over-90"],
    ] as const;
    for (const [today, days, age] of ages) {
      expect([today, daysOverdue("2027-03-01", today)]).toEqual([today, days]);
      expect([today, ageOf("2027-03-01", today)]).toEqual([today, age]);
    }
    expect(daysOverdue("2027-03-01", "2027-02-01")).toBe(0);
  });

  it("is summed by age, with what is in the customer's favour beside it", () => {
    const invoice = (dueOn: string, openMinor: number) => ({ dueOn, openMinor: minorUnits(openMinor) });
    const standing = standingOn("2027-04-01", [
      invoice("2027-04-01", 100),
      invoice("2027-03-31", 20),
      invoice("2027-03-01", 3),
      invoice("2027-01-01", -50),
      invoice("2026-12-01", 7),
    ]);
    expect(standing).toEqual({
      byAge: { "not-due": 100, "to-30": 20, "to-60": 3, "to-90": 0, "over-90": 7 },
      ...{ overdueMinor: 30, inFavourMinor: 50, balanceMinor: 80 },
    });
  });
});

describe("a paper's number", () => {
  it("says year and count, and of a credit note that it is one", () => {
    expect(paperNumber({ kind: "invoice", year: 2027, number: 14 })).toBe("2027-0014");
    expect(paperNumber({ kind: "credit-note", year: 2027, number: 3 })).toBe("C2027-0003");
    expect(paperNumber({ kind: "invoice", year: 2027, number: 12_345 })).toBe("2027-12345");
  });
});
