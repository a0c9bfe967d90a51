import { describe, expect, it } from "vitest";
import { lotSquares } from "../../server/labels/codeSquares.ts";
import { drawLabels } from "../../server/labels/drawLabels.ts";
import { openFaces } from "../../server/labels/faces.ts";
import { labelContent } from "../../server/labels/labelContent.ts";
import { layLabel } from "../../server/labels/layLabel.ts";
import { maker, pieces, sheetOf } from "./labelRoom.ts";
import { readCode } from "./readCode.ts";
import { type PrintedPage, readPdf } from "./readPdf.ts";

const faces = openFaces();

/** Three by four labels of 60 x 60 mm on A4: margins of 10 and 15 mm, gaps of 5 and 8 mm. */
const sheet = sheetOf(60, 60, {
  ...{ columns: 3, rows: 4, marginLeftMicrometres: 10_000, marginTopMicrometres: 15_000 },
  ...{ gapAcrossMicrometres: 5000, gapDownMicrometres: 8000 },
});

/** Upper left corners in millimetres, worked by hand: 10, 75, 140 and 15, 83, 151, 219. */
const corners = [15, 83, 151, 219].flatMap((top) => [10, 75, 140].map((left) => ({ left, top })));

async function printed(given: {
  readonly first: number;
  readonly count: number;
  readonly isRound?: boolean;
}) {
  const size = { ...sheet, isRound: given.isRound ?? false };
  const laid = layLabel(labelContent(pieces(), maker({ market: "eu" })), "front", size, faces);
  if (!laid.fits) throw new Error("does not fit");
  const labels = Array.from({ length: given.count }, () => ({ lines: laid.lines }));
  return readPdf(await drawLabels({ title: "Labels", sheet: size, first: given.first, faces: labels }));
}

const saying = (page: PrintedPage | undefined, words: string) =>
  page?.words.filter((one) => one.words === words) ?? [];

describe("a printed sheet", () => {
  it("is as large as its paper, and has every word in its place, to a tenth of a millimetre", async () => {
    const pages = await printed({ first: 1, count: 12 });
    expect(pages).toHaveLength(1);
    const [page] = pages;
    expect(page?.width).toBeCloseTo(210, 3);
    expect(page?.height).toBeCloseTo(297, 3);
    const names = saying(page, "Cedar ball");
    expect(names).toHaveLength(12);
    for (const [place, { left, width }] of names.entries()) {
      const middle = (corners[place]?.left ?? 0) + 30;
      expect(Math.abs(left + width / 2 - middle)).toBeLessThan(0.1);
    }
    // The same line of every label stands as far below its label's edge.
    const below = names.map(({ baseline }, place) => baseline - (corners[place]?.top ?? 0));
    for (const distance of below) expect(Math.abs(distance - (below[0] ?? 0))).toBeLessThan(0.1);
    // The weight stands at the foot: its letters end 1.5 mm and what hangs below the line (0.29 of the em) from the edge.
    for (const [place, weight] of saying(page, "Net weight 124 g (4.4 oz)").entries()) {
      const foot = (corners[place]?.top ?? 0) + 60 - 1.5 - 0.29 * weight.size;
      expect(Math.abs(weight.baseline - foot)).toBeLessThan(0.1);
    }
  });

  it("has all words within their labels, whether these are square or round", async () => {
    for (const isRound of [false, true]) {
      const [page] = await printed({ first: 1, count: 12, isRound });
      expect(page?.words.length).toBeGreaterThanOrEqual(48);
      for (const { left, width, baseline, size } of page?.words ?? []) {
        const within = corners.some((corner) =>
          [left, left + width].every((x) =>
            [baseline - 0.7 * size, baseline + 0.25 * size].every((y) => {
              const across = x - corner.left - 30;
              const down = y - corner.top - 30;
              return isRound
                ? Math.hypot(across, down) <= 30
                : Math.max(Math.abs(across), Math.abs(down)) <= 30;
            }),
          ),
        );
        expect(within).toBe(true);
      }
    }
  });

  it("begins at the label that is asked for and goes on over pages", async () => {
    const pages = await printed({ first: 11, count: 16 });
    expect(pages.map((page) => saying(page, "Cedar ball").length)).toEqual([2, 12, 2]);
    const [name] = saying(pages[0], "Cedar ball");
    expect(Math.abs((name?.left ?? 0) + (name?.width ?? 0) / 2 - 105)).toBeLessThan(0.1);
    expect(name?.baseline).toBeGreaterThan(219);
  });

  it("has its figures as high as they were measured, on the line, and words as wide", async () => {
    // As the bold face draws them when figures stand on the line; its own hang below it and are 0.506 high.
    expect(faces.bold.figureHeight).toBe(0.586);
    const [page] = await printed({ first: 1, count: 1 });
    const [weight] = saying(page, "Net weight 124 g (4.4 oz)");
    const laid = faces.bold.widthOf("Net weight 124 g (4.4 oz)") * (weight?.size ?? 0);
    expect(Math.abs((weight?.width ?? 0) - laid)).toBeLessThan(0.01);
  });

  it("has letters as high as the rule asks for, measured on paper", async () => {
    const [page] = await printed({ first: 1, count: 1 });
    const [weight] = saying(page, "Net weight 124 g (4.4 oz)");
    // 3 mm for 50 to 200 g; the lowest figure of the bold face is 586 thousandths of the em high.
    expect((weight?.size ?? 0) * 0.586).toBeGreaterThanOrEqual(3 - 1e-6);
  });
});

describe("a printed code", () => {
  const elements = { gtin: "6291041500213", producedOn: "2027-03-01", lot: "K7QF" };

  it.each([
    ["the lot alone where the shop has no number", null, "K7QF"],
    // Read back, the sign that begins an element string (FNC1) is told apart from what is said.
    ["the element string where it has one", elements, "0106291041500213" + "11270301" + "10K7QF"],
  ])("reads as %s", async (_, given, expected) => {
    const squares = lotSquares("K7QF", given);
    const width = 21_000;
    const code = { squares, left: 5000, top: 7000, width };
    const pdf = await drawLabels({ title: "Code", sheet, first: 1, faces: [{ lines: [], code }] });
    const [page] = await readPdf(pdf);
    const drawn = page?.squares ?? [];
    // 10 + 5 and 15 + 7 mm from the paper's corner, where the finder pattern begins.
    expect(Math.min(...drawn.map(({ left }) => left))).toBeCloseTo(15, 3);
    expect(Math.min(...drawn.map(({ top }) => top))).toBeCloseTo(22, 3);
    expect(Math.max(...drawn.map(({ left, width: one }) => left + one))).toBeCloseTo(36, 3);
    expect(readCode(drawn)).toBe(expected);
  });
});
