import type { LabelledPieces, LabelMaker, RecipePart } from "../../server/labels/labelContent.ts";
import type { SheetSize } from "../../server/labels/sheet.ts";

/** An ingredient of a mix, by its share; it has a label's name and stays where it is unless it says otherwise. */
export function part(name: string, perCent: number, given: Partial<RecipePart> = {}): RecipePart {
  return {
    ...{ name, labelName: name, kind: "other", evaporatesBasisPoints: 0, allergens: null },
    milligramsPerKilogram: Math.round(perCent * 10_000),
    ...given,
  };
}

/** Foaming, scented and coloured; 4 % of alcohol evaporate. */
export const foamingMix: readonly RecipePart[] = [
  part("Sodium Bicarbonate", 52, { kind: "soda" }),
  part("Citric Acid", 26, { kind: "acid" }),
  part("Sodium Lauryl Sulfoacetate", 6, { kind: "surfactant" }),
  part("Zea Mays Starch", 8.2, { kind: "filler" }),
  part("Isopropyl Alcohol", 4, { kind: "alcohol", evaporatesBasisPoints: 10_000 }),
  part("Prunus Amygdalus Dulcis Oil", 2, { kind: "oil" }),
  part("Cedar scent oil", 1.4, { kind: "scent", labelName: "" }),
  part("Polysorbate 80", 0.3, { kind: "solubiliser" }),
  part("Mica", 0.1, { kind: "colour" }),
];

/** 130 g of mix that weigh 124.8 g dry. */
export function pieces(given: Partial<LabelledPieces> = {}): LabelledPieces {
  return {
    product: "Cedar ball",
    lotCode: "K7QF",
    parts: foamingMix,
    pieceMilligrams: 130_000,
    declaredMilligrams: null,
    durabilityMonths: 12,
    madeOn: "2027-03-01",
    ...given,
  };
}

export function maker(given: Partial<LabelMaker> = {}): LabelMaker {
  return {
    market: "us",
    makerName: "Tidepool & Thimble",
    makerPlace: "1 Sandbar Lane, Lower Brackish, XX 00000",
    contact: "tidepool.halfmold.example",
    adultsOnly: false,
    ...given,
  };
}

/** Labels of so many millimetres side by side on paper that is large enough, without gaps. */
export function sheetOf(width: number, height: number, given: Partial<SheetSize> = {}): SheetSize {
  return {
    paperWidthMicrometres: 210_000,
    paperHeightMicrometres: 297_000,
    ...{ columns: 1, rows: 1, isRound: false },
    labelWidthMicrometres: width * 1000,
    labelHeightMicrometres: height * 1000,
    ...{ marginLeftMicrometres: 0, marginTopMicrometres: 0 },
    ...{ gapAcrossMicrometres: 0, gapDownMicrometres: 0 },
    ...given,
  };
}
