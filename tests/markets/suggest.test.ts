import { describe, expect, it } from "vitest";
import type { Showing } from "../../server/markets/demand.ts";
import { type StallProduct, suggest } from "../../server/markets/suggest.ts";
import { reasonWords } from "../../views/markets/suggestionWords.ts";

const sold = (soldUnits: number): Showing => ({ soldUnits, soldOut: null });
const soldOut = (soldUnits: number): Showing => ({ soldUnits, soldOut: { share: null } });

/** A ball in cedar that earns four times what a left-over loses, so that four of five days should be covered. */
function product(
  productId: number,
  showings: readonly Showing[],
  more: Partial<StallProduct> = {},
): StallProduct {
  return { productId, shapeId: 1, blendId: productId, missed: 400, leftOver: 100, showings, ...more };
}

const names = { shape: "Ball 60 mm", blend: "Cedar" };

describe("how many to take", () => {
  it("is more than ever sold where the product sold out, and is told in one line", () => {
    const [advice] = suggest([product(1, [sold(18), soldOut(25), sold(20), soldOut(24), sold(22)])]);
    if (!advice?.takeUnits) throw new Error("There is a number for what was sold before");
    expect(advice.takeUnits).toBeGreaterThan(25);
    expect(reasonWords(advice, names)).toBe(
      `sold 18 to 25 in five markets, sold out twice: take ${advice.takeUnits}`,
    );
  });

  it("grows with what a sale earns and shrinks with what a left-over loses", () => {
    const showings = [sold(18), sold(22), sold(20)];
    const takes = [
      { missed: 100, leftOver: 400 },
      { missed: 400, leftOver: 400 },
      { missed: 400, leftOver: 100 },
    ].map((money) => suggest([product(1, showings, money)])[0]?.takeUnits ?? 0);
    expect(takes).toEqual([...takes].sort((one, other) => one - other));
    expect(new Set(takes).size).toBe(3);
  });

  it("comes from others of its shape where it was never taken, then of its blend, then from all", () => {
    const seen = [sold(30), sold(34), sold(32)];
    const basisBeside = (other: Partial<StallProduct>) =>
      suggest([product(1, [], { shapeId: 1, blendId: 1 }), product(2, seen, other)])[0];
    expect(basisBeside({ shapeId: 1, blendId: 2 })?.basis).toBe("shape");
    expect(basisBeside({ shapeId: 2, blendId: 1 })?.basis).toBe("blend");
    expect(basisBeside({ shapeId: 2, blendId: 2 })?.basis).toBe("all");
    const advice = basisBeside({ shapeId: 1, blendId: 2 });
    if (!advice?.takeUnits) throw new Error("Its family gives a number");
    expect(advice.takeUnits).toBeGreaterThan(30);
    expect(reasonWords(advice, names)).toBe(
      `never taken; others of Ball 60 mm sold 30 to 34: to try it, take ${advice.takeUnits}`,
    );
  });

  it("leans on its family while its own past is short, and stands alone in words from three markets on", () => {
    const family = product(2, [sold(30), sold(34), sold(32)]);
    const advised = (own: readonly Showing[]) => suggest([product(1, own), family])[0];
    expect(advised([sold(8)])?.takeUnits).toBeGreaterThan(
      advised([sold(8), sold(8), sold(8)])?.takeUnits ?? 99,
    );
    expect(advised([sold(8)])?.family).not.toBeNull();
    expect(advised([sold(8), sold(8), sold(8)])?.family).toBeNull();
  });

  it("is no number where nothing was ever taken, and none where a sale earns nothing", () => {
    expect(suggest([product(1, [])])[0]).toMatchObject({ takeUnits: null, basis: "nothing" });
    const [advice] = suggest([product(1, [sold(8)], { missed: -5 })]);
    expect(advice?.takeUnits).toBe(0);
    expect(advice && reasonWords(advice, names)).toBe(
      "sold 8 in one market; it earns nothing here: take none",
    );
  });
});
