import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { apportion, roundHalfUp } from "../../server/money/exactShares.ts";
import { minorUnits } from "../../server/money/minorUnits.ts";
import { orderTotals, type PricedLine, type PricedOrder } from "../../server/money/orderTotals.ts";

function line(units: number, price: number, given: Partial<PricedLine> = {}): PricedLine {
  return { units, unitPriceMinor: minorUnits(price), discountBasisPoints: 0, taxPpm: 0, ...given };
}

function order(lines: readonly PricedLine[], given: Partial<PricedOrder> = {}): PricedOrder {
  return {
    lines,
    discountBasisPoints: 0,
    shippingMinor: minorUnits(0),
    shippingTaxPpm: 0,
    pricesIncludeTax: false,
    rounding: "line",
    ...given,
  };
}

const TWENTY = 200_000;

describe("what an order comes to", () => {
  it("adds up lines, discounts, shipping and tax; worked by hand", () => {
    const totals = orderTotals(
      order(
        [
          // 24 x 2.75 = 66.00, less 10 % = 59.40
          line(24, 275, { discountBasisPoints: 1000, taxPpm: TWENTY }),
          // 36 x 1.90 = 68.40
          line(36, 190, { taxPpm: TWENTY }),
        ],
        { discountBasisPoints: 250, shippingMinor: minorUnits(850), shippingTaxPpm: TWENTY },
      ),
    );
    // 127.80 less 2.5 % (3.195, a half up: 3.20) = 124.60; with shipping 133.10 net.
    expect(totals).toMatchObject({ goodsMinor: 12_780, discountMinor: 320, netMinor: 13_310 });
    // The discount's shares: 3.20 x 59.40/127.80 = 1.487, 1.713: 1.49 and 1.71. Tax by line 11.58, 13.34, and 1.70.
    expect(totals.lines).toMatchObject([
      { amountMinor: 5940, orderDiscountMinor: 149, netMinor: 5791, taxMinor: 1158, grossMinor: 6949 },
      { amountMinor: 6840, orderDiscountMinor: 171, netMinor: 6669, taxMinor: 1334, grossMinor: 8003 },
    ]);
    expect(totals).toMatchObject({ taxMinor: 2662, grossMinor: 15_972 });
  });

  it("rounds by line or by order, which may differ by a cent a line; worked by hand", () => {
    // Three lines of 0.33 at 20 %: 0.066 each is 0.07 a line, three make 0.21; of 0.99 it is 0.198, that is 0.20.
    const lines = [
      line(1, 33, { taxPpm: TWENTY }),
      line(1, 33, { taxPpm: TWENTY }),
      line(1, 33, { taxPpm: TWENTY }),
    ];
    expect(orderTotals(order(lines)).taxMinor).toBe(21);
    const byOrder = orderTotals(order(lines, { rounding: "order" }));
    expect(byOrder.taxMinor).toBe(20);
    expect(byOrder.lines.map(({ taxMinor }) => taxMinor)).toEqual([7, 7, 6]);
  });

  it("rounds a discount on each line, or once for all; worked by hand", () => {
    // 5 % off 0.10 is 0.095 a line: 0.10 each by line, 0.30 together; of 0.30 it is 0.285, that is 0.29.
    const lines = [1, 2, 3].map(() => line(1, 10, { discountBasisPoints: 500 }));
    expect(orderTotals(order(lines)).goodsMinor).toBe(30);
    expect(orderTotals(order(lines, { rounding: "order" })).goodsMinor).toBe(29);
  });

  /*
   * HM Revenue & Customs, VAT Notice 700, section on the VAT fraction and on rounding (from memory): at 20 % the VAT in a price is
   * one sixth of it, at 5 % one twenty-first; a VAT amount of 86.76p on a line may be rounded to 87p.
   */
  it("takes the tax out of prices that include it, by the VAT fraction", () => {
    const inPrice = (gross: number, taxPpm: number) =>
      orderTotals(order([line(1, gross, { taxPpm })], { pricesIncludeTax: true }));
    expect(inPrice(12_000, TWENTY)).toMatchObject({ netMinor: 10_000, taxMinor: 2000, grossMinor: 12_000 });
    expect(inPrice(2100, 50_000)).toMatchObject({ netMinor: 2000, taxMinor: 100 });
    // One sixth of 9.99 is 1.665: 1.67.
    expect(inPrice(999, TWENTY)).toMatchObject({ netMinor: 832, taxMinor: 167, grossMinor: 999 });
  });

  it("rounds a line's VAT of 86.76p to 87p", () => {
    // 4338 tenths of a penny at 20 % are 867.6 tenths.
    expect(roundHalfUp(4338n * 200_000n, 10_000_000n)).toBe(87n);
  });

  /*
   * EN 16931-1, business rule BR-CO-17 (from memory): the tax of a rate is its taxable amount times the rate, rounded to
   * two decimals; that is rounding by order. Two rates, the shipping at the higher one.
   */
  it("sums the tax by rate", () => {
    const totals = orderTotals(
      order([line(10, 199, { taxPpm: 190_000 }), line(7, 333, { taxPpm: 70_000 })], {
        rounding: "order",
        shippingMinor: minorUnits(490),
        shippingTaxPpm: 190_000,
      }),
    );
    // 19.90 + 4.90 = 24.80 at 19 %: 4.712; 23.31 at 7 %: 1.6317.
    expect(totals.byRate).toEqual([
      { ratePpm: 190_000, netMinor: 2480, taxMinor: 471, grossMinor: 2951 },
      { ratePpm: 70_000, netMinor: 2331, taxMinor: 163, grossMinor: 2494 },
    ]);
  });

  it("takes a rate with three decimals of a per cent exactly", () => {
    // 8.875 % of 40.00 is 3.55, of 12.00 is 1.065: a half up.
    expect(orderTotals(order([line(1, 4000, { taxPpm: 88_750 })])).taxMinor).toBe(355);
    expect(orderTotals(order([line(1, 1200, { taxPpm: 88_750 })])).taxMinor).toBe(107);
  });

  it("is nothing for nothing", () => {
    expect(orderTotals(order([]))).toMatchObject({ netMinor: 0, taxMinor: 0, grossMinor: 0, byRate: [] });
    expect(orderTotals(order([line(0, 500), line(12, 0)], { discountBasisPoints: 10_000 })).grossMinor).toBe(
      0,
    );
  });
});

const share = fc.integer({ min: 0, max: 10_000 });
const rate = fc.constantFrom(0, 50_000, 70_000, 88_750, 190_000, 200_000, 1_000_000);
const anyLine = fc.record({
  units: fc.integer({ min: 0, max: 100_000 }),
  unitPriceMinor: fc.integer({ min: 0, max: 10_000_000 }).map(minorUnits),
  discountBasisPoints: share,
  taxPpm: rate,
});
const anyOrder: fc.Arbitrary<PricedOrder> = fc.record({
  lines: fc.array(anyLine, { maxLength: 30 }),
  discountBasisPoints: share,
  shippingMinor: fc.integer({ min: 0, max: 1_000_000_000 }).map(minorUnits),
  shippingTaxPpm: rate,
  pricesIncludeTax: fc.boolean(),
  rounding: fc.constantFrom("line", "order"),
});
const plus = (amounts: readonly number[]) => amounts.reduce((sum, amount) => sum + amount, 0);

describe("however prices are stated and rounded", () => {
  it("the lines and the shipping add up to every total, to the minor unit", () => {
    fc.assert(
      fc.property(anyOrder, (asked) => {
        const totals = orderTotals(asked);
        const parts = [...totals.lines, totals.shipping];
        for (const sum of ["netMinor", "taxMinor", "grossMinor"] as const) {
          expect(plus(parts.map((part) => part[sum]))).toBe(totals[sum]);
          expect(plus(totals.byRate.map((part) => part[sum]))).toBe(totals[sum]);
        }
        for (const part of [...parts, totals]) expect(part.netMinor + part.taxMinor).toBe(part.grossMinor);
        expect(plus(totals.lines.map((part) => part.amountMinor))).toBe(totals.goodsMinor);
        expect(plus(totals.lines.map((part) => part.orderDiscountMinor))).toBe(totals.discountMinor);
        const stated = asked.pricesIncludeTax ? totals.grossMinor : totals.netMinor;
        expect(totals.goodsMinor - totals.discountMinor + asked.shippingMinor).toBe(stated);
      }),
      { numRuns: 500 },
    );
  });

  it("no part is negative, and none is a whole unit off its exact amount", () => {
    fc.assert(
      fc.property(anyOrder, (asked) => {
        const totals = orderTotals(asked);
        for (const [place, part] of totals.lines.entries()) {
          const { units, unitPriceMinor, discountBasisPoints } = asked.lines[place] ?? line(0, 0);
          const exact = BigInt(units) * BigInt(unitPriceMinor) * BigInt(10_000 - discountBasisPoints);
          const off = BigInt(part.amountMinor) * 10_000n - exact;
          expect(off > -10_000n && off < 10_000n).toBe(true);
          expect(Math.min(part.netMinor, part.taxMinor, part.orderDiscountMinor)).toBeGreaterThanOrEqual(0);
        }
      }),
      { numRuns: 300 },
    );
  });

  it("by order, a line that is a whole amount keeps it, whatever the others are rounded by", () => {
    const lines = [
      line(41, 5_444_760),
      line(12, 9_999_981, { discountBasisPoints: 4661 }),
      line(42_850, 6, { discountBasisPoints: 956 }),
    ];
    const totals = orderTotals(order(lines, { rounding: "order" }));
    // Beside it 64 067 878.2708 and 232 521.24: together half a unit more and a little, which goes to the larger rest.
    expect(totals.lines.map(({ amountMinor }) => amountMinor)).toEqual([223_235_160, 64_067_879, 232_521]);
  });

  it("by order, goods and the tax of each rate are rounded once, from the exact sums", () => {
    fc.assert(
      fc.property(anyOrder, (asked) => {
        const totals = orderTotals({ ...asked, rounding: "order" });
        const exact = asked.lines.reduce(
          (sum, one) =>
            sum + BigInt(one.units) * BigInt(one.unitPriceMinor) * BigInt(10_000 - one.discountBasisPoints),
          0n,
        );
        expect(BigInt(totals.goodsMinor)).toBe(halfUp(exact, 10_000n));
        for (const { ratePpm, netMinor, taxMinor, grossMinor } of totals.byRate) {
          const tax = asked.pricesIncludeTax
            ? halfUp(BigInt(grossMinor) * BigInt(ratePpm), 1_000_000n + BigInt(ratePpm))
            : halfUp(BigInt(netMinor) * BigInt(ratePpm), 1_000_000n);
          expect(BigInt(taxMinor)).toBe(tax);
        }
      }),
      { numRuns: 300 },
    );
  });

  it("the largest order there can be is still exact", () => {
    const most = Array.from({ length: 500 }, () => line(100_000, 10_000_000, { taxPpm: 1_000_000 }));
    // 500 x 100 000 x 10 000 000 twice over is 10^15, well below 2^53.
    expect(orderTotals(order(most)).grossMinor).toBe(1_000_000_000_000_000);
  });
});

/** Written another way: whole part, and one more when twice the rest reaches the divisor. */
function halfUp(numerator: bigint, denominator: bigint): bigint {
  const rest = numerator % denominator;
  return (numerator - rest) / denominator + (2n * rest >= denominator ? 1n : 0n);
}

describe("sharing a whole", () => {
  it("gives what is left over to the largest remainders, the first of equal ones first", () => {
    expect(apportion(100n, [1n, 1n, 1n])).toEqual([34n, 33n, 33n]);
    expect(apportion(10n, [15n, 26n, 59n])).toEqual([1n, 3n, 6n]);
    expect(apportion(0n, [0n, 0n])).toEqual([0n, 0n]);
    expect(() => apportion(1n, [0n])).toThrow(RangeError);
  });
});
