import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gatheredList } from "../../server/packing/gatheredList.ts";
import { orderSheet } from "../../server/packing/orderSheet.ts";
import type { CodedLot, OpenLine } from "../../server/packing/packingList.ts";

const WEDNESDAY = new Date("2027-03-03T09:00:00Z");
const MONDAY = new Date("2027-03-01T09:00:00Z");

describe("the gathered list", () => {
  it("adds up by lot what the orders want, along the shelf, and says for whom", () => {
    // 84 of K7 for the first two orders; the third takes what is left of it and goes on to M3.
    const lines = [line("W-98", 1, 36), line("W-104", 1, 48), line("W-105", 1, 20)];
    const list = gatheredList(lines, [lot("K7", 1, 90, "B1"), lot("M3", 1, 30, "A3")], null);
    expect(
      list.takes.map(({ shelfPlace, code, units, for: whom }) => [shelfPlace, code, units, whom]),
    ).toEqual([
      ["A3", "M3", 14, [{ orderId: 105, reference: "W-105", units: 14 }]],
      [
        ...["B1", "K7", 90],
        [
          { orderId: 98, reference: "W-98", units: 36 },
          { orderId: 104, reference: "W-104", units: 48 },
          { orderId: 105, reference: "W-105", units: 6 },
        ],
      ],
    ]);
  });

  it("is of the orders that can be packed whole, unless others are chosen", () => {
    const lines = [line("W-98", 1, 10), line("W-104", 1, 10), line("W-106", 2, 5)];
    const lots = [lot("K7", 1, 15, "A1")];
    const chosen = (list: ReturnType<typeof gatheredList>) =>
      list.orders.map(({ reference, isChosen }) => [reference, isChosen]);
    expect(chosen(gatheredList(lines, lots, null))).toEqual([
      ["W-98", true],
      ["W-104", false],
    ]);
    const other = gatheredList(lines, lots, [104]);
    expect(chosen(other)).toEqual([
      ["W-98", false],
      ["W-104", true],
    ]);
    // The ten of the earlier promise stay where they are.
    expect(other.takes.map(({ units }) => units)).toEqual([5]);
  });

  it("is exactly what the orders' own lists suggest together, and never more than a lot has", () => {
    fc.assert(
      fc.property(days, fc.array(fc.integer({ min: 1, max: 6 })), ({ lines, lots }, chosen) => {
        const list = gatheredList(lines, lots, chosen);
        const suggested = new Map<string, number>();
        for (const orderId of new Set(lines.map((one) => one.orderId).filter((id) => chosen.includes(id))))
          for (const { suggestion } of orderSheet(orderId, lines, lots, []))
            for (const { code, take } of suggestion) suggested.set(code, (suggested.get(code) ?? 0) + take);
        expect(new Map(list.takes.map(({ code, units }) => [code, units]))).toEqual(suggested);
        for (const { lotId, units, for: whom } of list.takes) {
          expect(units).toBeLessThanOrEqual(lots.find(({ id }) => id === lotId)?.units ?? 0);
          expect(whom.reduce((sum, part) => sum + part.units, 0)).toBe(units);
        }
      }),
    );
  });

  it("is what handing out piece by piece comes to, the earliest promise first", () => {
    fc.assert(
      fc.property(days, ({ lines, lots }) => {
        const all = lines.map(({ orderId }) => orderId);
        const list = gatheredList(lines, lots, all);
        const takes = list.takes.flatMap(({ code, for: whom }) =>
          whom.map(({ reference, units }) => `${reference} ${code} ${units}`),
        );
        expect(takes.toSorted()).toEqual(pieceByPiece(lines, lots).toSorted());
      }),
    );
  });
});

/** Every piece by itself: each line in turn takes the first piece of its product that nobody has taken. */
function pieceByPiece(lines: readonly OpenLine[], lots: readonly CodedLot[]): readonly string[] {
  const pieces = lots.flatMap((one) => Array.from({ length: one.units }, () => ({ lot: one, taken: false })));
  const counts = new Map<string, number>();
  for (const { reference, productId, ordered } of lines) {
    for (let wanted = 0; wanted < ordered; wanted += 1) {
      const piece = pieces.find((one) => !one.taken && one.lot.productId === productId);
      if (!piece) break;
      piece.taken = true;
      if (piece.lot.readyDueAt !== null) continue;
      const key = `${reference} ${piece.lot.code}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
  }
  return [...counts].map(([key, units]) => `${key} ${units}`);
}

/** Up to six orders of up to three products, and up to six lots of these, the ready ones first. */
const days = fc
  .record({
    lines: fc.uniqueArray(
      fc.record({
        orderId: fc.integer({ min: 1, max: 6 }),
        productId: fc.integer({ min: 1, max: 3 }),
        units: fc.integer({ min: 0, max: 9 }),
      }),
      { maxLength: 10, selector: ({ orderId, productId }) => `${orderId}/${productId}` },
    ),
    lots: fc.array(
      fc.record({
        productId: fc.integer({ min: 1, max: 3 }),
        units: fc.integer({ min: 1, max: 12 }),
        isReady: fc.boolean(),
        shelfPlace: fc.constantFrom("", "A2", "A10", "B1"),
      }),
      { maxLength: 6 },
    ),
  })
  .map(({ lines, lots }) => ({
    lines: lines
      .toSorted((one, other) => one.orderId - other.orderId)
      .map(({ orderId, productId, units }) => line(`W-${orderId}`, productId, units)),
    lots: lots
      .toSorted((one, other) => Number(other.isReady) - Number(one.isReady))
      .map(({ productId, units, isReady, shelfPlace }, place) => ({
        ...lot(`L${place}`, productId, units, shelfPlace),
        ...{ id: place + 1, readyDueAt: isReady ? null : WEDNESDAY },
      })),
  }));

/** A line of the order "W-98" has the order's number 98. */
function line(reference: string, productId: number, ordered: number): OpenLine {
  const orderId = Number(reference.slice(2));
  return {
    ...{ orderId, reference, productId, ordered, packed: 0, shipped: 0, lineId: orderId * 10 + productId },
    ...{ customer: "The Lamplit Otter", terms: "complete", shipBy: "2027-03-05", state: "confirmed" },
    ...{ product: `product ${productId}`, look: { name: "Cedar", colour: "#c98a3d", pattern: "plain" } },
  };
}

function lot(code: string, productId: number, units: number, shelfPlace: string): CodedLot {
  const id = code.charCodeAt(0);
  return { id, code, productId, units, readyDueAt: null, readyAt: MONDAY, shelfPlace };
}
