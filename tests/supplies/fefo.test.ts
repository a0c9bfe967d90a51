import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type LotOnHand, takeFefo } from "../../server/supplies/fefo.ts";

const lot = (
  lotId: number,
  amount: number,
  expiresOn: string | null,
  receivedOn = "2027-01-01",
): LotOnHand => ({
  ...{ lotId, amount, expiresOn, receivedOn },
});

describe("what is used up first", () => {
  it("is what expires first, of these what came first; what never expires comes last", () => {
    const lots = [
      lot(1, 10, null),
      lot(2, 10, "2027-06-01"),
      lot(3, 10, "2027-04-01", "2027-02-01"),
      lot(4, 10, "2027-04-01", "2027-01-15"),
    ];
    expect(takeFefo(35, lots, "2027-03-01")).toEqual({
      takes: [
        { lotId: 4, amount: 10 },
        { lotId: 3, amount: 10 },
        { lotId: 2, amount: 10 },
        { lotId: 1, amount: 5 },
      ],
      beyond: 0,
    });
  });

  it("is good on its last day, and is not taken by itself on the day after", () => {
    const lots = [lot(1, 10, "2027-03-01")];
    expect(takeFefo(4, lots, "2027-03-01").beyond).toBe(0);
    expect(takeFefo(4, lots, "2027-03-02")).toEqual({ takes: [], beyond: 4 });
  });

  it("is what the maker has in hand, whatever its day; the rest is found as usual", () => {
    const lots = [lot(1, 10, "2027-02-01"), lot(2, 10, "2027-04-01"), lot(3, 10, "2027-05-01")];
    expect(takeFefo(15, lots, "2027-03-01", [3])).toEqual({
      takes: [
        { lotId: 3, amount: 10 },
        { lotId: 2, amount: 5 },
      ],
      beyond: 0,
    });
    expect(takeFefo(3, lots, "2027-03-01", [1]).takes).toEqual([{ lotId: 1, amount: 3 }]);
  });

  it("is said to be missing where the lots have too little, and is never made up", () => {
    expect(takeFefo(25, [lot(1, 10, null), lot(2, 5, null)], "2027-03-01").beyond).toBe(10);
  });
});

/*
 * Brute force: grains laid out one by one, each taken in the order of its day. Over a row of days on which something is
 * needed, taking first what expires first covers as much as any order of taking does.
 */
describe("taking first what expires first", () => {
  const day = (number: number) => `2027-03-${String(number).padStart(2, "0")}`;
  const someLots = fc
    .array(
      fc.record({
        amount: fc.integer({ min: 1, max: 4 }),
        expires: fc.option(fc.integer({ min: 1, max: 6 })),
      }),
      { minLength: 1, maxLength: 4 },
    )
    .map((lots) =>
      lots.map(({ amount, expires }, place) =>
        lot(place + 1, amount, expires === null ? null : day(expires)),
      ),
    );
  const someNeeds = fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 1, maxLength: 5 });

  it("takes the same as grains sorted one by one", () => {
    fc.assert(
      fc.property(
        someLots,
        fc.integer({ min: 0, max: 20 }),
        fc.integer({ min: 1, max: 7 }),
        (lots, amount, on) => {
          const grains = lots
            .filter(({ expiresOn }) => expiresOn === null || expiresOn >= day(on))
            .flatMap((one) => Array.from({ length: one.amount }, () => one))
            .sort((one, other) => {
              const [first, second] = [one.expiresOn ?? "9", other.expiresOn ?? "9"];
              return first < second ? -1 : first > second ? 1 : one.lotId - other.lotId;
            })
            .slice(0, amount);
          const { takes, beyond } = takeFefo(amount, lots, day(on));
          expect(takes.flatMap((take) => Array.from({ length: take.amount }, () => take.lotId))).toEqual(
            grains.map(({ lotId }) => lotId),
          );
          expect(beyond).toBe(amount - grains.length);
        },
      ),
    );
  });

  it("covers as much of the needs of a row of days as the best of all ways to take", () => {
    fc.assert(
      fc.property(someLots, someNeeds, (lots, needs) => {
        expect(coveredFefo(lots, needs)).toBe(coveredAtBest(lots, needs));
      }),
      { numRuns: 300 },
    );
  });

  function coveredFefo(lots: readonly LotOnHand[], needs: readonly number[]): number {
    let left = [...lots];
    let covered = 0;
    for (const [place, need] of needs.entries()) {
      const { takes, beyond } = takeFefo(need, left, day(place + 1));
      covered += need - beyond;
      left = left.map((one) => ({
        ...one,
        amount: one.amount - (takes.find(({ lotId }) => lotId === one.lotId)?.amount ?? 0),
      }));
    }
    return covered;
  }

  /** Tries every lot for every grain of every need, or none. */
  function coveredAtBest(lots: readonly LotOnHand[], needs: readonly number[]): number {
    const grains = needs.flatMap((need, place) => Array.from({ length: need }, () => day(place + 1)));
    const known = new Map<string, number>();
    const best = (grain: number, amounts: readonly number[]): number => {
      const on = grains[grain];
      if (on === undefined) return 0;
      const key = `${grain} ${amounts.join()}`;
      const before = known.get(key);
      if (before !== undefined) return before;
      let most = best(grain + 1, amounts);
      for (const [place, one] of lots.entries()) {
        if ((amounts[place] ?? 0) === 0 || (one.expiresOn !== null && one.expiresOn < on)) continue;
        const after = amounts.map((amount, at) => (at === place ? amount - 1 : amount));
        most = Math.max(most, 1 + best(grain + 1, after));
      }
      known.set(key, most);
      return most;
    };
    return best(
      0,
      lots.map(({ amount }) => amount),
    );
  }
});
