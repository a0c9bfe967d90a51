import type { Market } from "./markets.ts";
import { INCH_MICROMETRES, type SheetSize } from "./sheet.ts";

/** What a card is laid on: a tray on which a lot dries, or a box in which it leaves. */
export const cardKinds = ["tray", "box"] as const;
export type CardKind = (typeof cardKinds)[number];

/** A card by itself, or several on a sheet of office paper, to be cut apart. */
export const cardPapers = ["a6", "a4", "letter"] as const;
export type CardPaper = (typeof cardPapers)[number];

/** ISO 216: A6 lying is 148 by 105 mm; two by four cards on A4, and on letter paper of 8.5 by 11 inches. */
export const cardSheets: Readonly<Record<CardPaper, SheetSize>> = {
  a6: filled({ width: 148_000, height: 105_000, columns: 1, rows: 1 }),
  a4: filled({ width: 210_000, height: 297_000, columns: 2, rows: 4 }),
  letter: filled({ width: 8.5 * INCH_MICROMETRES, height: 11 * INCH_MICROMETRES, columns: 2, rows: 4 }),
};

/** Several cards on the office paper of the place. */
export function usualPaper(market: Market): CardPaper {
  return market === "us" ? "letter" : "a4";
}

function filled(paper: {
  readonly width: number;
  readonly height: number;
  readonly columns: number;
  readonly rows: number;
}): SheetSize {
  return {
    paperWidthMicrometres: paper.width,
    paperHeightMicrometres: paper.height,
    ...{ columns: paper.columns, rows: paper.rows, isRound: false },
    labelWidthMicrometres: Math.floor(paper.width / paper.columns),
    labelHeightMicrometres: Math.floor(paper.height / paper.rows),
    ...{ marginLeftMicrometres: 0, marginTopMicrometres: 0 },
    ...{ gapAcrossMicrometres: 0, gapDownMicrometres: 0 },
  };
}
