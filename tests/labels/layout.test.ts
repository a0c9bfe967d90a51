import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Area,
  type Block,
  type Face,
  type Faces,
  type Line,
  layOut,
} from "../../server/labels/layout.ts";

/** Every letter and blank half as wide as the em, so that all sums can be done by hand. */
const even: Face = {
  widthOf: (words) => words.length / 2,
  capitalHeight: 0.7,
  smallHeight: 0.5,
  figureHeight: 0.6,
};
const faces: Faces = { regular: even, bold: even };

function block(words: string, given: Partial<Block<string>> = {}): Block<string> {
  return {
    ...{ role: "text", words, weight: "regular", leastSize: 1000, comfortableSize: 1000, align: "left" },
    ...given,
  };
}

const box = (width: number, height: number): Area => ({ width, height, isRound: false });

function linesOf(laid: ReturnType<typeof layOut<string>>): readonly Line<string>[] {
  if (!laid.fits) throw new Error("does not fit");
  return laid.lines;
}

describe("words in a box", () => {
  it("break where the next one would not fit any more", () => {
    // Ten letters of 500: a line of 5000 holds "aaaa bbbbb" and not a letter more.
    const lines = linesOf(layOut([block("aaaa bbbbb cc")], box(5000, 9000), faces));
    expect(lines.map(({ words }) => words)).toEqual(["aaaa bbbbb", "cc"]);
    const narrower = linesOf(layOut([block("aaaa bbbbb cc")], box(4999, 9000), faces));
    expect(narrower.map(({ words }) => words)).toEqual(["aaaa", "bbbbb cc"]);
  });

  it("keep a number and its unit together", () => {
    // A line of 4000 holds eight letters: "ball 70", but not its unit besides.
    const lines = linesOf(layOut([block("ball 70 mm (12 g) wt")], box(4000, 9000), faces));
    expect(lines.map(({ words }) => words)).toEqual(["ball", "70 mm", "(12 g)", "wt"]);
  });

  it("stand in the middle of what is free, those of the foot at its lower edge", () => {
    // One line is 1150 high; 2300 are free below two lines with 350 between them in 4950.
    const blocks = [
      block("name", { role: "name", align: "centre" }),
      block("weight", { role: "weight", atFoot: true }),
    ];
    const [name, weight] = linesOf(layOut(blocks, box(10_000, 4950), faces));
    expect(name).toMatchObject({ left: 4000, width: 2000, baseline: 1150 + 860 });
    expect(weight).toMatchObject({ left: 0, baseline: 2300 + 1150 + 350 + 860 });
  });

  it("are as large as fits between the least and the comfortable size", () => {
    const words = block("one two", { leastSize: 1000, comfortableSize: 3000 });
    // On one line up to 2000 high: 7 letters are 3.5 ems wide.
    const [line] = linesOf(layOut([words], box(7000, 2300), faces));
    expect(line?.size).toBe(2000);
    expect(linesOf(layOut([words], box(50_000, 50_000), faces))[0]?.size).toBe(3000);
  });

  it("that are too high even at their least size say by how much", () => {
    // Three lines of 1150 in 3000.
    expect(layOut([block("aaaa bbbb cccc")], box(2000, 3000), faces)).toEqual({
      ...{ fits: false, tooHigh: 450, tooWide: 0 },
    });
    expect(layOut([block("aaaa bbbb cccc")], box(2000, 3450), faces).fits).toBe(true);
  });

  it("of which one is longer than a line say by how much", () => {
    expect(layOut([block("aaaaaa")], box(2000, 3000), faces)).toEqual({
      ...{ fits: false, tooHigh: 0, tooWide: 1000 },
    });
  });
});

describe("words on any label", () => {
  const words = fc.array(fc.string({ minLength: 1, maxLength: 12, unit: "grapheme-ascii" }), {
    maxLength: 30,
  });
  const area = fc.record({
    width: fc.integer({ min: 500, max: 60_000 }),
    height: fc.integer({ min: 500, max: 60_000 }),
    isRound: fc.boolean(),
  });

  it("are all there, in their order, and none stands over the edge", () => {
    fc.assert(
      fc.property(words, words, area, (first, second, within) => {
        const blocks = [
          block(first.join(" "), { comfortableSize: 4000, align: "centre" }),
          block(second.join(" "), { role: "second", weight: "bold", comfortableSize: 2500 }),
        ];
        const laid = layOut(blocks, within, faces);
        if (!laid.fits) {
          expect(laid.tooHigh + laid.tooWide).toBeGreaterThan(0);
          return;
        }
        const said = laid.lines.map((line) => line.words).join(" ");
        expect(said.split(/\s+/).filter(Boolean)).toEqual(
          `${first.join(" ")} ${second.join(" ")}`.split(/\s+/).filter(Boolean),
        );
        for (const line of laid.lines) expect(isWithin(line, within)).toBe(true);
      }),
    );
  });
});

/** All four corners of what the letters of a line may cover: from the highest capital to the line they stand on. */
function isWithin({ left, width, baseline, size }: Line<string>, area: Area): boolean {
  const noise = 1e-6;
  return [left, left + width].every((x) =>
    [baseline - 0.86 * size, baseline + 0.29 * size].every((y) =>
      area.isRound
        ? ((x - area.width / 2) / (area.width / 2)) ** 2 + ((y - area.height / 2) / (area.height / 2)) ** 2 <=
          1 + noise
        : x >= -noise && x <= area.width + noise && y >= -noise && y <= area.height + noise,
    ),
  );
}
