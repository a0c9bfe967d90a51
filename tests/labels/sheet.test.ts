import { describe, expect, it } from "vitest";
import { beyondPaper, placesFrom, type SheetSize } from "../../server/labels/sheet.ts";
import { sheetOffers } from "../../server/labels/sheetOffers.ts";

const mm = 1000;

/** Two by three labels of 60 x 40 mm on A4: 10 and 20 mm of margin, 5 and 4 mm of gap. */
const sheet: SheetSize = {
  paperWidthMicrometres: 210 * mm,
  paperHeightMicrometres: 297 * mm,
  ...{ columns: 2, rows: 3, isRound: false },
  labelWidthMicrometres: 60 * mm,
  labelHeightMicrometres: 40 * mm,
  marginLeftMicrometres: 10 * mm,
  marginTopMicrometres: 20 * mm,
  gapAcrossMicrometres: 5 * mm,
  gapDownMicrometres: 4 * mm,
};

const corners = (first: number, count: number) =>
  placesFrom(sheet, first, count).map((page) =>
    page.map(({ leftMicrometres, topMicrometres }) => [leftMicrometres / mm, topMicrometres / mm]),
  );

describe("a sheet of labels", () => {
  it("is used row by row from the upper left", () => {
    expect(corners(1, 6)).toEqual([
      [
        [10, 20],
        [75, 20],
        [10, 64],
        [75, 64],
        [10, 108],
        [75, 108],
      ],
    ]);
  });

  it("is begun where the last one was left off, and goes on at the top of the next page", () => {
    expect(corners(6, 2)).toEqual([[[75, 108]], [[10, 20]]]);
    expect(corners(5, 9).map((page) => page.length)).toEqual([2, 6, 1]);
    expect(() => corners(7, 1)).toThrow("no label 7");
  });

  it("ends at the paper's edge: a micrometre more stands over it", () => {
    // 10 + 60 + 5 + 60 = 135, and 20 + 3 * 40 + 2 * 4 = 148.
    const tight = { ...sheet, paperWidthMicrometres: 135 * mm, paperHeightMicrometres: 148 * mm };
    expect(beyondPaper(tight)).toEqual({ across: 0, down: 0 });
    expect(beyondPaper({ ...tight, gapAcrossMicrometres: 5 * mm + 1 })).toEqual({ across: 1, down: 0 });
    expect(beyondPaper({ ...tight, gapDownMicrometres: 4 * mm + 1 })).toEqual({ across: 0, down: 2 });
  });
});

describe("the sizes to begin with", () => {
  it.each(sheetOffers.map((offer) => [offer] as const))("lie on their paper, in its middle: %j", (offer) => {
    expect(beyondPaper(offer)).toEqual({ across: 0, down: 0 });
    const pages = placesFrom(offer, 1, offer.columns * offer.rows);
    const last = pages[0]?.at(-1);
    const right = offer.paperWidthMicrometres - (last?.leftMicrometres ?? 0) - offer.labelWidthMicrometres;
    expect(Math.abs(right - offer.marginLeftMicrometres)).toBeLessThanOrEqual(1);
    expect(offer.marginLeftMicrometres).toBeGreaterThanOrEqual(8 * mm);
    expect(offer.marginTopMicrometres).toBeGreaterThanOrEqual(8 * mm);
  });
});
