import { z } from "zod";
import {
  blankOr,
  choiceField,
  dateField,
  decimalField,
  idField,
  rowsOf,
  textField,
} from "../http/formFields.ts";
import { categoryField } from "../supplies/forms.ts";
import { type Amount, amountUnits, type MassUnit, massUnits } from "./amounts.ts";
import { type Phase, phases } from "./phases.ts";

/** Parts of one recipe at most. */
const MOST_PARTS = 60;
/** Largest amount of a unit; its thousandths are still far within a column's whole numbers. */
const MOST_AMOUNT = 1_000_000;

/** Steps of kitchen and bench scales, in milligrams. */
export const scaleSteps = [10, 100, 500, 1000, 2000, 5000] as const;

/** A part of the form and the row it was sent in, from 0, blank rows counted: a refusal finds its way back. */
export interface FormPart {
  readonly place: number;
  readonly supplyId: number;
  readonly amount: Amount;
  /** Null: as is usual for its kind. */
  readonly phase: Phase | null;
}

type TypedPart = Readonly<Record<"supply" | "amount" | "unit" | "phase", string>>;

const partFields = { supply: "partSupply", amount: "partAmount", unit: "partUnit", phase: "partPhase" };

/** The names of the lists that the rows of the form are sent in. */
export const partLists: readonly string[] = Object.values(partFields);

const amountField = decimalField({ least: 0.001, most: MOST_AMOUNT, decimals: 3 });
const inThousandths = (amount: number) => Math.round(amount * 1000);

/** A version of a recipe as it is written down. Mistakes of row 3 stand at "parts.3.amount" and so on. */
export const versionForm = z.preprocess(
  (body) => (typeof body === "object" && body !== null ? { ...body, parts: rowsOf(body, partFields) } : body),
  z
    .object({
      validFrom: dateField(),
      category: categoryField,
      note: textField({ most: 1000, blank: true }),
      writtenFor: blankOr(amountField),
      writtenForUnit: choiceField(massUnits, "Choose a unit of weight."),
      parts: z.array(z.custom<TypedPart>()).transform((rows, context) => readParts(rows, context)),
    })
    .transform(({ writtenFor, writtenForUnit, ...rest }) => ({
      ...rest,
      writtenFor:
        writtenFor === null
          ? null
          : ({ thousandths: inThousandths(writtenFor), unit: writtenForUnit } as Amount<MassUnit>),
    })),
);

export type VersionDraft = z.output<typeof versionForm>;

function readParts(rows: readonly TypedPart[], context: z.RefinementCtx): readonly FormPart[] {
  const wrong = (path: readonly (string | number)[], message: string) =>
    context.addIssue({ code: "custom", path: [...path], message });
  const filled = [...rows.entries()].filter(([, { supply, amount }]) => `${supply}${amount}`.trim() !== "");
  if (filled.length === 0) wrong([], "Nothing goes into the bowl yet: fill in a row.");
  if (filled.length > MOST_PARTS) {
    wrong([], `One recipe takes at most ${MOST_PARTS} parts.`);
    return [];
  }
  return filled.flatMap(([place, row]): readonly FormPart[] => {
    const read = {
      supply: idField("Choose an ingredient.").safeParse(row.supply),
      amount: amountField.safeParse(row.amount),
      unit: choiceField(amountUnits, "Choose a unit.").safeParse(row.unit),
      phase: blankOr(choiceField(phases, "Choose a step.")).safeParse(row.phase),
    };
    for (const [field, { error }] of Object.entries(read))
      if (error) wrong([place, field], error.issues[0]?.message ?? "Look at this again.");
    const { supply, amount, unit, phase } = read;
    if (!supply.success || !amount.success || !unit.success || !phase.success) return [];
    return [
      {
        place,
        supplyId: supply.data,
        amount: { thousandths: inThousandths(amount.data), unit: unit.data },
        phase: phase.data,
      },
    ];
  });
}

/** How much mix the page is asked to weigh out, and what the scale shows. */
export const scalingForm = z
  .object({
    for: decimalField({ least: 0.01, most: 100_000, decimals: 3 }),
    unit: choiceField(massUnits, "Choose a unit of weight."),
    scale: choiceField(
      scaleSteps.map(String) as [string, ...string[]],
      "Choose what the scale shows.",
    ).transform(Number),
  })
  .transform(({ for: amount, unit, scale }) => ({
    amount: { thousandths: inThousandths(amount), unit },
    stepMilligrams: scale,
  }));
