/*
 * Where the labels of a sheet lie. Every length is whole micrometres, so that no row wanders by what was rounded in the
 * rows above it; an inch is 25 400 of them exactly.
 */

export const INCH_MICROMETRES = 25_400;

/** A sheet of labels as the shop buys it; margins are of the first label, gaps lie between two labels. */
export interface SheetSize {
  readonly paperWidthMicrometres: number;
  readonly paperHeightMicrometres: number;
  readonly columns: number;
  readonly rows: number;
  readonly labelWidthMicrometres: number;
  readonly labelHeightMicrometres: number;
  readonly marginLeftMicrometres: number;
  readonly marginTopMicrometres: number;
  readonly gapAcrossMicrometres: number;
  readonly gapDownMicrometres: number;
  readonly isRound: boolean;
}

/** A label's upper left corner, from that of the paper. */
export interface LabelPlace {
  readonly leftMicrometres: number;
  readonly topMicrometres: number;
}

export function labelsOnSheet({ columns, rows }: Pick<SheetSize, "columns" | "rows">): number {
  return columns * rows;
}

/** By how much the labels stick out of the paper to the right and below; zero where they do not. */
export function beyondPaper(sheet: SheetSize): { readonly across: number; readonly down: number } {
  const last = placeOf(sheet, labelsOnSheet(sheet) - 1);
  const right = last.leftMicrometres + sheet.labelWidthMicrometres;
  const bottom = last.topMicrometres + sheet.labelHeightMicrometres;
  return {
    across: Math.max(0, right - sheet.paperWidthMicrometres),
    down: Math.max(0, bottom - sheet.paperHeightMicrometres),
  };
}

/**
 * The places of so many labels, page by page, row by row from the upper left.
 *
 * @param first where the first page begins, from 1: labels before it have been used up already.
 */
export function placesFrom(sheet: SheetSize, first: number, count: number): readonly LabelPlace[][] {
  const perPage = labelsOnSheet(sheet);
  if (first < 1 || first > perPage) throw new RangeError(`the sheet has no label ${first}`);
  const pages: LabelPlace[][] = [];
  for (let label = first - 1; label < first - 1 + count; label++) {
    if (pages.length === 0 || label % perPage === 0) pages.push([]);
    pages.at(-1)?.push(placeOf(sheet, label % perPage));
  }
  return pages;
}

function placeOf(sheet: SheetSize, label: number): LabelPlace {
  const column = label % sheet.columns;
  const row = Math.floor(label / sheet.columns);
  return {
    leftMicrometres:
      sheet.marginLeftMicrometres + column * (sheet.labelWidthMicrometres + sheet.gapAcrossMicrometres),
    topMicrometres:
      sheet.marginTopMicrometres + row * (sheet.labelHeightMicrometres + sheet.gapDownMicrometres),
  };
}
