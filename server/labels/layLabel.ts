import { type LabelRole, labelRoles, labelWords } from "../../views/labels/labelWords.ts";
import type { LabelContent } from "./labelContent.ts";
import { type Area, type Block, type Face, type Faces, type Laid, layOut } from "./layout.ts";
import type { SheetSize } from "./sheet.ts";
import {
  LEGIBLE_MICROMETRES,
  leastIngredientHeight,
  leastWarningHeight,
  leastWeightHeight,
  type Panel,
} from "./typeHeight.ts";

/** All on one label, or what customers look for in front and the rest behind. */
export const labelSides = ["all", "front", "back"] as const;
export type LabelSide = (typeof labelSides)[number];

const rolesOf: Readonly<Record<LabelSide, readonly LabelRole[]>> = {
  all: labelRoles,
  front: ["name", "identity", "lot", "durability", "weight"],
  back: ["ingredients", "cautions", "maker", "contact"],
};

/** Left white around the words, as printers push a sheet to and fro: common practice, no source. */
export const INSET_MICROMETRES = 1500;

/** Which parts a side has; what nothing is known of is left out. */
export function wordsOn(content: LabelContent, side: LabelSide): ReadonlyMap<LabelRole, string> {
  const words = labelWords(content);
  return new Map(rolesOf[side].flatMap((role) => (words[role] === "" ? [] : [[role, words[role]] as const])));
}

/** The side of a label on a sheet of this size, its lines from the upper left corner of the label. */
export function layLabel(
  content: LabelContent,
  side: LabelSide,
  sheet: SheetSize,
  faces: Faces,
): Laid<LabelRole> {
  const laid = layOut(blocksOf(content, side, sheet, faces), insideOf(sheet), faces);
  if (!laid.fits) return laid;
  const lines = laid.lines.map((line) => ({
    ...line,
    left: line.left + INSET_MICROMETRES,
    baseline: line.baseline + INSET_MICROMETRES,
  }));
  return { fits: true, lines };
}

export function panelOf(sheet: SheetSize): Panel {
  return {
    widthMicrometres: sheet.labelWidthMicrometres,
    heightMicrometres: sheet.labelHeightMicrometres,
    isRound: sheet.isRound,
  };
}

function insideOf({ labelWidthMicrometres, labelHeightMicrometres, isRound }: SheetSize): Area {
  return {
    width: Math.max(1, labelWidthMicrometres - 2 * INSET_MICROMETRES),
    height: Math.max(1, labelHeightMicrometres - 2 * INSET_MICROMETRES),
    isRound,
  };
}

/** Comfortable sizes of the em, where there is room: common practice, no source. */
const comfortable: Readonly<Record<LabelRole, number>> = {
  name: 6500,
  identity: 3600,
  ingredients: 3000,
  cautions: 3000,
  maker: 3000,
  contact: 3000,
  lot: 3300,
  durability: 3000,
  weight: 3800,
};

/** A name one can find on a shelf: common practice, no source. */
const LEAST_NAME_SIZE = 2600;

function blocksOf(
  content: LabelContent,
  side: LabelSide,
  sheet: SheetSize,
  faces: Faces,
): readonly Block<LabelRole>[] {
  return [...wordsOn(content, side)].map(([role, words]) => {
    const weight = role === "name" || role === "weight" ? ("bold" as const) : ("regular" as const);
    const leastSize = leastSizeOf(role, content, sheet, faces[weight]);
    const runsOn = role === "ingredients" || role === "cautions" || role === "maker" || role === "contact";
    return {
      ...{ role, words, weight, leastSize },
      comfortableSize: Math.max(leastSize, comfortable[role]),
      align: runsOn && !sheet.isRound ? ("left" as const) : ("centre" as const),
      // In the lowest part of what customers look at (21 CFR 701.13(f), from memory).
      atFoot: role === "weight",
    };
  });
}

function leastSizeOf(role: LabelRole, content: LabelContent, sheet: SheetSize, face: Face): number {
  const asked = leastHeightOf(role, content, sheet);
  const legible = LEGIBLE_MICROMETRES / face.smallHeight;
  const least = asked === null ? legible : asked / measuredShare(role, content, face);
  // To the next whole micrometre, so that no letter is too low by what was rounded.
  return Math.ceil(role === "name" ? Math.max(least, LEAST_NAME_SIZE) : least);
}

/** How tall a part's letters have to be by the market's own numbers; null where it has none for it. */
export function leastHeightOf(role: LabelRole, content: LabelContent, sheet: SheetSize): number | null {
  const { market, netWeight } = content;
  if (role === "weight" && netWeight) return leastWeightHeight(market, panelOf(sheet), netWeight.milligrams);
  if (role === "ingredients") return leastIngredientHeight(market, panelOf(sheet));
  if (role === "cautions") return leastWarningHeight(market);
  return null;
}

/** What is measured, as a share of the em: figures by the European rule on weights, else small letters. */
export function measuredShare(role: LabelRole, { market }: LabelContent, face: Face): number {
  return role === "weight" && market !== "us" ? face.figureHeight : face.smallHeight;
}
