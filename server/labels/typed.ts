import type { FormAnswer } from "../../views/components/formAnswer.ts";
import type { LabelMakerFacts, SheetFacts } from "./forms.ts";
import { INCH_MICROMETRES, type SheetSize } from "./sheet.ts";
import type { LengthUnit } from "./sheetOffers.ts";

/* What the tables hold, as the owner would have typed it: the way back through the forms. */

type Typed = FormAnswer["typed"];

export function typedMaker(facts: LabelMakerFacts): Typed {
  return {
    market: facts.market,
    makerName: facts.makerName,
    makerPlace: facts.makerPlace,
    contact: facts.contact,
    adultsOnly: facts.adultsOnly ? "yes" : "",
    gs1Prefix: facts.gs1Prefix ?? "",
  };
}

export function typedSheet({ name, unit, ...sheet }: SheetFacts | (SheetSize & NamedUnit)): Typed {
  const length = (micrometres: number) => lengthTyped(micrometres, unit);
  return {
    ...{ name, unit, columns: String(sheet.columns), rows: String(sheet.rows) },
    paperWidth: length(sheet.paperWidthMicrometres),
    paperHeight: length(sheet.paperHeightMicrometres),
    labelWidth: length(sheet.labelWidthMicrometres),
    labelHeight: length(sheet.labelHeightMicrometres),
    marginLeft: length(sheet.marginLeftMicrometres),
    marginTop: length(sheet.marginTopMicrometres),
    gapAcross: length(sheet.gapAcrossMicrometres),
    gapDown: length(sheet.gapDownMicrometres),
    isRound: sheet.isRound ? "yes" : "",
  };
}

interface NamedUnit {
  readonly name: string;
  readonly unit: LengthUnit;
}

/** Four decimals of an inch are 2.54 micrometres: sent again they give the length they were typed from. */
function lengthTyped(micrometres: number, unit: LengthUnit): string {
  return unit === "mm"
    ? String(micrometres / 1000)
    : String(Math.round((micrometres / INCH_MICROMETRES) * 10_000) / 10_000);
}
