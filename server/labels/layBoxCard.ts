import { type BoxCard, type BoxCardRole, boxCardWords } from "../../views/labels/boxCardWords.ts";
import type { LabelFace } from "./drawLabels.ts";
import { type Block, type Faces, layOut } from "./layout.ts";
import type { SheetSize } from "./sheet.ts";

/** White around the words, so that a card can be cut or held. */
const INSET = 5000;

/** Least and comfortable sizes of the em: common practice, no source. */
const sizes: Readonly<Record<BoxCardRole, readonly [least: number, comfortable: number]>> = {
  box: [6000, 16_000],
  order: [2800, 8000],
  pieces: [2400, 6000],
  lots: [2400, 5000],
};

/**
 * The card of one box of an order. It carries no code: a scanner at the packing table reads a lot, and a box has several.
 * As many lots are named as fit; the packing slip has them all.
 */
export function layBoxCard(box: BoxCard, sheet: SheetSize, faces: Faces): LabelFace {
  const area = {
    width: sheet.labelWidthMicrometres - 2 * INSET,
    height: sheet.labelHeightMicrometres - 2 * INSET,
    isRound: false,
  };
  for (let lots = box.content.length; lots >= 0; lots -= 1) {
    const laid = layOut(boxCardWords(box, lots).map(blockOf), area, faces);
    if (!laid.fits) continue;
    return {
      lines: laid.lines.map((line) => ({
        ...line,
        left: line.left + INSET,
        baseline: line.baseline + INSET,
      })),
    };
  }
  throw new Error(`The card of box ${box.number} of ${box.reference} does not fit its words`);
}

function blockOf([role, words]: readonly [BoxCardRole, string]): Block<BoxCardRole> {
  const [leastSize, comfortableSize] = sizes[role];
  const weight = role === "box" || role === "order" ? "bold" : "regular";
  return { role, words, weight, leastSize, comfortableSize, align: "left" };
}
