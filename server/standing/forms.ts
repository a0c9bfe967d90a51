import { z } from "zod";
import {
  blankOr,
  dateField,
  idField,
  repeatedField,
  textField,
  wholeNumberField,
} from "../http/formFields.ts";
import { piecesField, withPieces } from "../http/piecesFields.ts";
import { MOST_LINES } from "../orders/order.ts";
import { weeklyRule } from "./weeklyRule.ts";

const weekdaysField = repeatedField()
  .refine((days) => days.every((day) => /^[1-7]$/.test(day)), { error: "Tick days of the week." })
  .transform((days) => [...new Set(days.map(Number))].sort((one, other) => one - other))
  .refine((days) => days.length > 0, { error: "Tick at least one day." });

/** Everything of a standing order but whose it is. */
const contentFields = {
  every_weeks: wholeNumberField({ least: 1, most: 52 }),
  weekday: weekdaysField,
  starts_on: dateField(),
  ends_on: blankOr(dateField()),
  days_before: wholeNumberField({ least: 0, most: 120 }),
  note: textField({ most: 2000, blank: true }),
  lines: piecesField(MOST_LINES),
};

type ContentFields = z.output<z.ZodObject<typeof contentFields>>;

export const changedStandingOrderForm = z
  .preprocess(withPieces, z.object(contentFields).superRefine(endsLater))
  .transform(contentOf);

export const newStandingOrderForm = z
  .preprocess(
    withPieces,
    z.object({ ...contentFields, customer: idField("Choose a shop.") }).superRefine(endsLater),
  )
  .transform(({ customer, ...fields }) => ({ ...contentOf(fields), customerId: customer }));

export type StandingContent = z.output<typeof changedStandingOrderForm>;

export const pauseForm = z
  .object({ first_date: dateField(), last_date: blankOr(dateField()) })
  .refine(({ first_date, last_date }) => last_date === null || last_date >= first_date, {
    path: ["last_date"],
    error: "The last day comes before the first.",
  })
  .transform(({ first_date, last_date }) => ({ firstDate: first_date, lastDate: last_date }));

export const oneDateForm = z.object({ date: dateField() });

function endsLater(fields: Pick<ContentFields, "starts_on" | "ends_on">, context: z.RefinementCtx): void {
  if (fields.ends_on !== null && fields.ends_on < fields.starts_on)
    context.addIssue({ code: "custom", path: ["ends_on"], message: "It would end before it begins." });
}

function contentOf({ every_weeks, weekday, starts_on, ends_on, days_before, ...rest }: ContentFields) {
  return {
    ...rest,
    rule: weeklyRule({ everyWeeks: every_weeks, weekdays: weekday }),
    startsOn: starts_on,
    endsOn: ends_on,
    daysBefore: days_before,
  };
}
