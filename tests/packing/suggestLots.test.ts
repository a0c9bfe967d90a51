import { describe, expect, it } from "vitest";
import { gathered, type ShelfLot, shareShelf } from "../../server/packing/suggestLots.ts";

const CEDAR = 1;
const WEDNESDAY = new Date("2027-03-03T09:00:00Z");
const THURSDAY = new Date("2027-03-04T09:00:00Z");

describe("who gets which pieces", () => {
  it("serves the earlier promise first and leaves the later one the rest", () => {
    // 20 on the shelf: 12 for the first line, so 8 of the 10 for the second.
    const shares = shareShelf([wants(1, 12), wants(2, 10)], [ready(7, 20)]);
    expect(shares.get(1)).toEqual({ free: 12, takes: [{ lotId: 7, units: 12 }], waiting: [], missing: 0 });
    expect(shares.get(2)).toEqual({ free: 8, takes: [{ lotId: 7, units: 8 }], waiting: [], missing: 2 });
  });

  it("empties the first ready lot before it opens the next, and gives no piece twice", () => {
    // 15 wanted: 12 of the first, then 3 of the 9 in the second; the next line goes on there.
    const shares = shareShelf([wants(1, 15), wants(2, 4)], [ready(7, 12), ready(3, 9), ready(5, 20)]);
    expect(shares.get(1)?.takes).toEqual([
      { lotId: 7, units: 12 },
      { lotId: 3, units: 3 },
    ]);
    expect(shares.get(2)?.takes).toEqual([{ lotId: 3, units: 4 }]);
  });

  it("says what a line waits for and until when, first ready first", () => {
    // 4 ready, then 6 on Wednesday, then 3 of the 9 on Thursday: 13.
    const lots = [ready(7, 4), drying(8, 6, WEDNESDAY), drying(9, 9, THURSDAY)];
    expect(shareShelf([wants(1, 13)], lots).get(1)).toEqual({
      free: 4,
      takes: [{ lotId: 7, units: 4 }],
      waiting: [
        { lotId: 8, units: 6, readyDueAt: WEDNESDAY },
        { lotId: 9, units: 3, readyDueAt: THURSDAY },
      ],
      missing: 0,
    });
  });

  it("gives no line the pieces of another product", () => {
    const shares = shareShelf([wants(1, 5)], [{ ...ready(7, 20), productId: 2 }]);
    expect(shares.get(1)).toEqual({ free: 0, takes: [], waiting: [], missing: 5 });
  });

  it("asks nothing for a line that is full", () => {
    const shares = shareShelf([wants(1, 0), wants(2, 5)], [ready(7, 5)]);
    expect([shares.get(1)?.free, shares.get(2)?.free]).toEqual([0, 5]);
  });
});

describe("takes of several lots", () => {
  it("are one a lot, by lot", () => {
    const takes = [
      { lotId: 9, units: 2 },
      { lotId: 4, units: 1 },
      { lotId: 9, units: 3 },
    ];
    expect(gathered(takes)).toEqual([
      { lotId: 4, units: 1 },
      { lotId: 9, units: 5 },
    ]);
  });
});

function wants(lineId: number, left: number) {
  return { orderId: lineId, lineId, productId: CEDAR, left };
}

function ready(id: number, units: number): ShelfLot {
  return { id, productId: CEDAR, units, readyDueAt: null };
}

function drying(id: number, units: number, readyDueAt: Date): ShelfLot {
  return { id, productId: CEDAR, units, readyDueAt };
}
