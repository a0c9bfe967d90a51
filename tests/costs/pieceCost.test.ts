import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Fraction, fraction, plus, times } from "../../server/costs/fractions.ts";
import { handMinutesOf, marginOf, pieceCost } from "../../server/costs/pieceCost.ts";
import { lastPaid, movingAverage } from "../../server/costs/unitCost.ts";
import { minorUnits } from "../../server/money/minorUnits.ts";

const asNumber = (one: Fraction | null) => (one === null ? null : Number(one.over) / Number(one.under));

describe("what a unit of a supply costs", () => {
  /*
   * The moving average of the Call-Mart example (Kieso, Weygandt & Warfield, Intermediate Accounting, chapter on
   * inventories; from memory, recomputed): 2 000 at 4.00 and 6 000 at 4.40 average 4.30; 4 000 are sold; 2 000 at 4.75
   * make it 4.45.
   */
  it("is the moving average, as accountants work it", () => {
    const bought = (amount: number, each: number) => ({ amount, paidMinor: amount * each });
    const first = [bought(2000, 400), bought(6000, 440)];
    expect(asNumber(movingAverage(first))).toBe(430);
    const sold = [...first, { amount: -4000 }];
    expect(asNumber(movingAverage(sold))).toBe(430);
    expect(asNumber(movingAverage([...sold, bought(2000, 475)]))).toBe(445);
  });

  it("is what was paid last, whatever came without a price since", () => {
    const moves = [
      { amount: 100, paidMinor: 500 },
      { amount: 50, paidMinor: 300 },
      { amount: -80 },
      { amount: 10, paidMinor: null },
    ];
    expect(asNumber(lastPaid(moves))).toBe(6);
    expect(lastPaid([{ amount: 10, paidMinor: null }])).toBeNull();
  });

  it("stays what it was when all is used up, and takes what has no price at the average of the time", () => {
    const moves = [{ amount: 100, paidMinor: 500 }, { amount: 20 }, { amount: -120 }];
    expect(asNumber(movingAverage(moves))).toBe(5);
    expect(asNumber(movingAverage([...moves, { amount: 10, paidMinor: 80 }]))).toBe(8);
    expect(movingAverage([{ amount: 10 }, { amount: -4 }])).toBeNull();
  });

  it("never leaves the range of what was paid, whatever comes and goes", () => {
    const someMoves = fc.array(
      fc.oneof(
        fc.record({ amount: fc.integer({ min: 1, max: 9000 }), each: fc.integer({ min: 1, max: 90 }) }),
        fc.record({ amount: fc.integer({ min: -9000, max: -1 }), each: fc.constant(null) }),
      ),
      { minLength: 1, maxLength: 30 },
    );
    fc.assert(
      fc.property(someMoves, (moves) => {
        const paid = moves.flatMap(({ each }) => each ?? []);
        const average = asNumber(
          movingAverage(
            moves.map(({ amount, each }) =>
              each === null ? { amount } : { amount, paidMinor: amount * each },
            ),
          ),
        );
        if (paid.length === 0) {
          expect(average).toBeNull();
          return;
        }
        expect(average).toBeGreaterThanOrEqual(Math.min(...paid) - 1e-3);
        expect(average).toBeLessThanOrEqual(Math.max(...paid) + 1e-3);
      }),
    );
  });
});

const hands = {
  ...{ pieceHundredthSeconds: 13_300, bowlHundredthMinutes: 3200 },
  ...{ pieceMilligrams: 118_000, bowlMilligrams: 2_600_000 },
};

/*
 * By hand: a ball of 118 g, two thirds soda at 1.34 a kilogram (25 kg for 33.50), a third acid at 4.38 (5 kg for 21.90),
 * a cup of 4.6 (250 for 11.50) and a twelfth of a box of 55 (25 for 13.75), in cents: 10.541 + 17.228 + 4.6 + 4.583.
 * Hands: 133 s and 118/2600 of 32 min, 2.2167 + 1.4523 = 3.6690 min; at 18.00 an hour 110.070.
 */
describe("what a piece costs", () => {
  const part = (name: string, amount: Fraction, minor: number, per: number) => ({
    ...{ name, amount, unitMinor: fraction(minor, per) },
  });
  const soda = part("soda", fraction(118_000 * 666_667, 1_000_000), 3350, 25_000_000);
  const acid = part("acid", fraction(118_000 * 333_333, 1_000_000), 2190, 5_000_000);
  const cup = part("cup", fraction(1, 1), 1150, 250);
  const box = part("box", fraction(1, 12), 1375, 25);

  it("is ingredients, packaging and hands, rounded once", () => {
    expect(pieceCost([soda, acid], [cup, box], hands, 1800)).toEqual({
      // 10.54 + 17.23 = 27.77, 9.18 and 110.07 are 147.02.
      ...{ ingredientsMinor: 28, packagingMinor: 9, handsMinor: 110, totalMinor: 147, unpriced: [] },
    });
    expect(handMinutesOf(hands)).toBe(3.66);
  });

  it("says what it does not know, and counts no hands where nobody said what they cost", () => {
    const unknown = { name: "rose oil", amount: fraction(5, 1), unitMinor: null };
    const cost = pieceCost([soda, unknown], [], hands, null);
    expect(cost).toMatchObject({ totalMinor: 11, handsMinor: null, unpriced: ["rose oil"] });
  });

  it("adds up to what it says, and is within half a minor unit of the exact sum", () => {
    const someParts = fc.array(
      fc.tuple(
        fc.bigInt({ min: 0n, max: 10n ** 9n }),
        fc.bigInt({ min: 1n, max: 10n ** 7n }),
        fc.bigInt({ min: 0n, max: 10n ** 6n }),
      ),
      { maxLength: 6 },
    );
    const costed = (parts: readonly (readonly [bigint, bigint, bigint])[]) =>
      parts.map(([amount, per, minor]) => ({
        name: "",
        amount: fraction(amount, 1000),
        unitMinor: fraction(minor, per),
      }));
    fc.assert(
      fc.property(someParts, someParts, fc.option(fc.integer({ min: 0, max: 9000 })), (one, other, hour) => {
        const cost = pieceCost(costed(one), costed(other), hands, hour);
        expect(cost.ingredientsMinor + cost.packagingMinor + (cost.handsMinor ?? 0)).toBe(cost.totalMinor);
        // 133 s of the piece itself, and its share of the 32 min of a full bowl.
        const hours = plus(fraction(133, 3600), fraction(32 * 118, 60 * 2600));
        const exact = [...costed(one), ...costed(other)]
          .map(({ amount, unitMinor }) => times(amount, unitMinor))
          .reduce(plus, times(fraction(hour ?? 0, 1), hours));
        const { over, under } = plus(exact, fraction(-cost.totalMinor, 1));
        expect(2n * over >= -under && 2n * over < under).toBe(true);
      }),
    );
  });
});

describe("what a price leaves", () => {
  it("is the price without its tax less the cost, and a share of the price", () => {
    // 5.90 with 20 % in it are 4.9166 without: 4.92; less 1.47 are 3.45, 70.12 %.
    expect(marginOf(590, 200_000, minorUnits(147))).toEqual({
      ...{ netMinor: 492, marginMinor: 345, shareBasisPoints: 7012 },
    });
    expect(marginOf(285, 0, minorUnits(147))).toMatchObject({ marginMinor: 138, shareBasisPoints: 4842 });
  });

  it("is less than nothing where every piece loses money, and no share of nothing", () => {
    expect(marginOf(100, 0, minorUnits(147))).toMatchObject({ marginMinor: -47, shareBasisPoints: -4700 });
    expect(marginOf(0, 0, minorUnits(1)).shareBasisPoints).toBeNull();
  });
});
