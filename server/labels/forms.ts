import { z } from "zod";
import {
  blankOr,
  choiceField,
  dateField,
  decimalField,
  textField,
  tickField,
  wholeNumberField,
} from "../http/formFields.ts";
import { cardKinds, cardPapers } from "./cardSheets.ts";
import { isCompanyPrefix } from "./gs1.ts";
import { labelSides } from "./layLabel.ts";
import { markets } from "./markets.ts";
import { beyondPaper, INCH_MICROMETRES, type SheetSize } from "./sheet.ts";
import { type LengthUnit, lengthUnits } from "./sheetOffers.ts";

export const labelMakerForm = z.object({
  market: choiceField(markets, "Choose whose rules count."),
  makerName: textField({ most: 120, blank: true }),
  makerPlace: textField({ most: 200, blank: true }),
  contact: textField({ most: 200, blank: true }),
  adultsOnly: tickField(),
  gs1Prefix: blankOr(
    textField({ most: 20 })
      .transform((typed) => typed.replaceAll(/\s/g, ""))
      .refine(isCompanyPrefix, {
        error: "A company prefix has 6 to 11 digits, as GS1 gave it to you. Leave it blank if you have none.",
      }),
  ),
});

export type LabelMakerFacts = z.output<typeof labelMakerForm>;

/** Widest and highest paper: the largest sheet of ISO 216 is 1189 mm long. */
const MOST_MILLIMETRES = 1300;
const unitMicrometres: Readonly<Record<LengthUnit, number>> = { mm: 1000, in: INCH_MICROMETRES };

/** A length as it was typed; its unit stands beside all of them, and turns it into micrometres afterwards. */
const length = (least: number) => decimalField({ least, most: MOST_MILLIMETRES, decimals: 4 });

export const sheetForm = z
  .object({
    name: textField({ most: 80 }),
    unit: choiceField(lengthUnits, "Choose millimetres or inches."),
    paperWidth: length(0.1),
    paperHeight: length(0.1),
    columns: wholeNumberField({ least: 1, most: 50 }),
    rows: wholeNumberField({ least: 1, most: 100 }),
    labelWidth: length(0.1),
    labelHeight: length(0.1),
    marginLeft: length(0),
    marginTop: length(0),
    gapAcross: length(0),
    gapDown: length(0),
    isRound: tickField(),
  })
  .transform(({ name, unit, columns, rows, isRound, ...lengths }, context) => {
    const inMicrometres = (typed: number) => Math.round(typed * unitMicrometres[unit]);
    const sheet = {
      ...{ name, unit, columns, rows, isRound },
      paperWidthMicrometres: inMicrometres(lengths.paperWidth),
      paperHeightMicrometres: inMicrometres(lengths.paperHeight),
      labelWidthMicrometres: inMicrometres(lengths.labelWidth),
      labelHeightMicrometres: inMicrometres(lengths.labelHeight),
      marginLeftMicrometres: inMicrometres(lengths.marginLeft),
      marginTopMicrometres: inMicrometres(lengths.marginTop),
      gapAcrossMicrometres: inMicrometres(lengths.gapAcross),
      gapDownMicrometres: inMicrometres(lengths.gapDown),
    };
    for (const { field, message } of sheetMistakes(sheet, unit))
      context.issues.push({ code: "custom", input: lengths, path: [field], message });
    return sheet;
  });

export type SheetFacts = z.output<typeof sheetForm>;

/** A label needs room for its words besides the white around them. */
const LEAST_LABEL_MICROMETRES = 10_000;

function sheetMistakes(sheet: SheetSize, unit: LengthUnit) {
  const words = (micrometres: number) => lengthIn(micrometres, unit);
  const mistakes: { readonly field: string; readonly message: string }[] = [];
  const wrong = (field: string, message: string) => mistakes.push({ field, message });
  const mostMicrometres = MOST_MILLIMETRES * unitMicrometres.mm;
  if (sheet.paperWidthMicrometres > mostMicrometres)
    wrong("paperWidth", `At most ${words(mostMicrometres)}.`);
  if (sheet.paperHeightMicrometres > mostMicrometres)
    wrong("paperHeight", `At most ${words(mostMicrometres)}.`);
  if (sheet.labelWidthMicrometres < LEAST_LABEL_MICROMETRES)
    wrong("labelWidth", `A label is at least ${words(LEAST_LABEL_MICROMETRES)} wide.`);
  if (sheet.labelHeightMicrometres < LEAST_LABEL_MICROMETRES)
    wrong("labelHeight", `A label is at least ${words(LEAST_LABEL_MICROMETRES)} high.`);
  const { across, down } = beyondPaper(sheet);
  if (across > 0)
    wrong(
      "columns",
      `The last column stands ${words(across)} over the paper's right edge. Measure the margin, the gap and the labels once more.`,
    );
  if (down > 0)
    wrong(
      "rows",
      `The last row stands ${words(down)} over the paper's lower edge. Measure the margin, the gap and the labels once more.`,
    );
  return mistakes;
}

/** "2.5 mm" or "0.0984 in"; rounded up, as it says how much is too much. */
function lengthIn(micrometres: number, unit: LengthUnit): string {
  return unit === "mm"
    ? `${micrometres / unitMicrometres.mm} mm`
    : `${Math.ceil((micrometres / unitMicrometres.in) * 10_000) / 10_000} in`;
}

/** Heaviest net weight a label declares, in grams. */
const HEAVIEST_GRAMS = 10_000;
/** Longest durability that is stated. */
const MOST_MONTHS = 120;

export const productLabelForm = z.object({
  declaredGrams: blankOr(
    decimalField({ least: 0.1, most: HEAVIEST_GRAMS, decimals: 1 }).transform((grams) =>
      Math.round(grams * 1000),
    ),
  ),
  gs1Number: blankOr(wholeNumberField({ least: 0, most: 999_999 })),
  durabilityMonths: blankOr(wholeNumberField({ least: 1, most: MOST_MONTHS })),
});

/** Most labels of one file: a shop's whole week. */
const MOST_LABELS = 2000;

/** What is asked of the page of a lot's labels; what is left out is chosen by what is known. */
export const printForm = z.object({
  sheet: blankOr(wholeNumberField({ least: 1, most: 999_999_999 })),
  side: blankOr(choiceField(labelSides, "Choose what stands on the label.")),
  first: blankOr(wholeNumberField({ least: 1, most: 5000 })),
  count: blankOr(wholeNumberField({ least: 1, most: MOST_LABELS })),
  /** Asked for where nobody knows when the pieces were made. */
  madeOn: blankOr(dateField()),
});

const paperField = blankOr(choiceField(cardPapers, "Choose a paper."));

/** What is asked of the page of an order's boxes. */
export const boxCardsForm = z.object({ paper: paperField });

/** What is asked of the page of cards. */
export const cardsForm = z.object({
  paper: paperField,
  kind: blankOr(choiceField(cardKinds, "Choose what the cards are for.")),
  count: blankOr(wholeNumberField({ least: 1, most: 200 })),
  /** Pieces in each box; blank: written in by hand. */
  units: blankOr(wholeNumberField({ least: 1, most: 100_000 })),
});
