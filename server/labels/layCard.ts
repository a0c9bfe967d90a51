import { type CardFacts, type CardRole, cardWords } from "../../views/labels/cardWords.ts";
import { lotSquares } from "./codeSquares.ts";
import type { LabelFace } from "./drawLabels.ts";
import { type Elements, gtin13 } from "./gs1.ts";
import { type Block, type Faces, layOut } from "./layout.ts";
import type { SheetSize } from "./sheet.ts";

/** A card with what its code says besides the lot. */
export interface Card extends CardFacts {
  /** Its product's number under the shop's prefix; null: it has none. */
  readonly gs1Number: number | null;
}

/** White around the words, so that a card can be cut or held. */
const INSET = 5000;
/** Of a card's width, what its code takes at most, the white around it included. */
const CODE_SHARE = 0.44;
/** White around a QR code, in its squares (ISO/IEC 18004). */
const QUIET_SQUARES = 4;

/**
 * A card's words to the left and its code to the right, at a size that is read across the room. Names of any length fit:
 * words that no line could hold are cut short.
 */
export function layCard(card: Card, gs1Prefix: string | null, sheet: SheetSize, faces: Faces): LabelFace {
  const { labelWidthMicrometres: width, labelHeightMicrometres: height } = sheet;
  const squares = lotSquares(card.lotCode, elementsOf(card, gs1Prefix));
  const whole = Math.min(height, width * CODE_SHARE);
  const one = whole / (squares.side + 2 * QUIET_SQUARES);
  const codeWidth = one * squares.side;
  const area = { width: width - whole - INSET, height: height - 2 * INSET, isRound: false };
  const laid = layOut(blocksOf(card), area, faces);
  if (!laid.fits) throw new Error(`The card of lot ${card.lotCode} does not fit its words`);
  return {
    lines: laid.lines.map((line) => ({ ...line, left: line.left + INSET, baseline: line.baseline + INSET })),
    code: {
      ...{ squares, width: codeWidth },
      left: width - whole + QUIET_SQUARES * one,
      top: (height - codeWidth) / 2,
    },
  };
}

/** What the code says where the shop has a number for the product; null: the lot alone. */
export function elementsOf(
  { lotCode, gs1Number, formedOn }: Pick<Card, "lotCode" | "gs1Number" | "formedOn">,
  gs1Prefix: string | null,
): Elements | null {
  if (gs1Prefix === null || gs1Number === null) return null;
  return { gtin: gtin13(gs1Prefix, gs1Number), producedOn: formedOn, lot: lotCode };
}

/** Least and comfortable sizes of the em: common practice, no source. */
const sizes: Readonly<Record<CardRole, readonly [least: number, comfortable: number]>> = {
  lot: [9000, 26_000],
  product: [2400, 8000],
  pieces: [2400, 6500],
  dates: [2400, 4500],
  order: [2400, 6500],
};

function blocksOf(card: Card): readonly Block<CardRole>[] {
  return [...cardWords(card)].map(([role, words]) => {
    const [leastSize, comfortableSize] = sizes[role];
    const weight = role === "lot" || role === "order" ? ("bold" as const) : ("regular" as const);
    return { role, words, weight, leastSize, comfortableSize, align: "left" };
  });
}
