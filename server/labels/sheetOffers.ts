import { INCH_MICROMETRES, type SheetSize } from "./sheet.ts";

/** The units in which a sheet is measured. */
export const lengthUnits = ["mm", "in"] as const;
export type LengthUnit = (typeof lengthUnits)[number];

const MILLIMETRE = 1000;
/** Printers leave this much of the paper's edge white; common practice, no source. */
const EDGE = 8 * MILLIMETRE;
/** Between two labels, where nobody has measured: common practice, no source. */
const gaps: Readonly<Record<LengthUnit, number>> = { mm: 2 * MILLIMETRE, in: 0.08 * INCH_MICROMETRES };

/** ISO 216 for A4; letter paper is 8.5 by 11 inches. */
const a4 = { width: 210 * MILLIMETRE, height: 297 * MILLIMETRE };
const letter = { width: 8.5 * INCH_MICROMETRES, height: 11 * INCH_MICROMETRES };

/** A size to begin a sheet with: dimensions only. */
export interface SheetOffer extends SheetSize {
  readonly unit: LengthUnit;
}

const inches = (width: number, height: number, isRound = false) =>
  fill(letter, { width: width * INCH_MICROMETRES, height: height * INCH_MICROMETRES, isRound, unit: "in" });
const millimetres = (width: number, height: number, isRound = false) =>
  fill(a4, { width: width * MILLIMETRE, height: height * MILLIMETRE, isRound, unit: "mm" });

/** Sizes to start from; columns, margins and gaps are to be measured on the shop's own sheet. */
export const sheetOffers: readonly SheetOffer[] = [
  inches(1.5, 1.5),
  inches(2, 2),
  inches(2.5, 2.5, true),
  inches(4, 2),
  inches(4, 3),
  millimetres(40, 40),
  millimetres(50, 50),
  millimetres(60, 60, true),
  millimetres(70, 50),
  millimetres(95, 65),
];

/** As many labels as the paper holds, in its middle. */
function fill(
  paper: { readonly width: number; readonly height: number },
  label: {
    readonly width: number;
    readonly height: number;
    readonly isRound: boolean;
    readonly unit: LengthUnit;
  },
): SheetOffer {
  const gap = gaps[label.unit];
  const fits = (room: number, size: number) => Math.floor((room - 2 * EDGE + gap) / (size + gap));
  const margin = (room: number, size: number, count: number) =>
    Math.floor((room - count * size - (count - 1) * gap) / 2);
  const columns = fits(paper.width, label.width);
  const rows = fits(paper.height, label.height);
  return {
    paperWidthMicrometres: paper.width,
    paperHeightMicrometres: paper.height,
    ...{ columns, rows, isRound: label.isRound, unit: label.unit },
    labelWidthMicrometres: label.width,
    labelHeightMicrometres: label.height,
    marginLeftMicrometres: margin(paper.width, label.width, columns),
    marginTopMicrometres: margin(paper.height, label.height, rows),
    gapAcrossMicrometres: gap,
    gapDownMicrometres: gap,
  };
}
