import type { LabelRole } from "../../views/labels/labelWords.ts";
import { checkLabel, type LabelCheck } from "./checks.ts";
import type { LabelFace } from "./drawLabels.ts";
import { type LabelContent, type LabelledPieces, type LabelMaker, labelContent } from "./labelContent.ts";
import { type LabelSide, labelSides, layLabel } from "./layLabel.ts";
import type { Faces, Laid } from "./layout.ts";
import { labelsOnSheet, type SheetSize } from "./sheet.ts";

/** A sheet the shop has. */
interface ShopSheet extends SheetSize {
  readonly id: number;
  readonly name: string;
}

/** What was asked for; null where it is left to us. */
export interface AskedSheet {
  readonly sheet: number | null;
  readonly side: LabelSide | null;
  readonly first: number | null;
  readonly count: number | null;
  /** When the pieces were made, where that is not known already. */
  readonly madeOn: string | null;
}

/** A way to print that would hold everything. */
export interface WayOut {
  readonly sheetId: number;
  readonly sheetName: string;
  readonly side: LabelSide;
}

/** Labels as they would be printed, and what was found when they were looked over. */
export interface LabelsToPrint {
  readonly content: LabelContent;
  readonly sheet: ShopSheet;
  readonly side: LabelSide;
  readonly first: number;
  readonly count: number;
  readonly laid: Laid<LabelRole>;
  readonly checks: readonly LabelCheck[];
  /** Where it does not fit: what would. */
  readonly waysOut: readonly WayOut[];
}

/** The sheet asked for is none of the shop's, or has no such label. */
export type AskedMistake =
  | { readonly kind: "no-such-sheet" }
  | { readonly kind: "no-such-label"; readonly labels: number };

/**
 * Labels of some pieces on one of the shop's sheets. Where no side was asked for: everything on one label if it fits, else
 * the front.
 */
export function labelsToPrint(
  pieces: LabelledPieces & { readonly units: number },
  maker: LabelMaker,
  sheets: readonly ShopSheet[],
  asked: AskedSheet,
  faces: Faces,
): LabelsToPrint | AskedMistake {
  const sheet = asked.sheet === null ? sheets[0] : sheets.find(({ id }) => id === asked.sheet);
  if (!sheet) return { kind: "no-such-sheet" };
  const first = asked.first ?? 1;
  const labels = labelsOnSheet(sheet);
  if (first > labels) return { kind: "no-such-label", labels };
  const content = labelContent({ ...pieces, madeOn: pieces.madeOn ?? asked.madeOn }, maker);
  const side =
    asked.side ?? (layLabel(content, "all", sheet, faces).fits ? ("all" as const) : ("front" as const));
  const laid = layLabel(content, side, sheet, faces);
  const checked = {
    ...{ content, side, sheet, faces, declaredMilligrams: pieces.declaredMilligrams },
    lines: laid.fits ? laid.lines : [],
  };
  return {
    ...{ content, sheet, side, first, laid },
    count: asked.count ?? Math.max(1, pieces.units),
    checks: checkLabel(checked),
    waysOut: laid.fits ? [] : findWaysOut(content, side, sheet, sheets, faces),
  };
}

/** The same label front and back on this sheet, where both fit, then other sheets that hold it. */
function findWaysOut(
  content: LabelContent,
  side: LabelSide,
  sheet: ShopSheet,
  sheets: readonly ShopSheet[],
  faces: Faces,
): readonly WayOut[] {
  const holds = (on: ShopSheet, what: LabelSide) => layLabel(content, what, on, faces).fits;
  const split = labelSides.filter((what) => what !== "all");
  const bothHere = side === "all" && split.every((what) => holds(sheet, what));
  const others = sheets.filter((other) => other.id !== sheet.id && holds(other, side));
  return [
    ...(bothHere ? split.map((what) => ({ sheetId: sheet.id, sheetName: sheet.name, side: what })) : []),
    ...others.map((other) => ({ sheetId: other.id, sheetName: other.name, side })),
  ];
}

/** So many times the same label. */
export function facesToPrint({ laid, count }: LabelsToPrint): readonly LabelFace[] {
  if (!laid.fits) throw new Error("Labels that do not fit are never printed");
  return Array.from({ length: count }, () => ({ lines: laid.lines }));
}
