import { z } from "zod";
import {
  blankOr,
  choiceField,
  clockField,
  dateField,
  idField,
  rowsOf,
  textField,
  wholeNumberField,
} from "../http/formFields.ts";
import { moneyField } from "../http/moneyFields.ts";
import { piecesField, withPieces } from "../http/piecesFields.ts";
import type { MinorUnits } from "../money/minorUnits.ts";
import { habitRule, MOST_WEEKS_APART } from "./habitRule.ts";
import { MOST_TAKEN } from "./suggest.ts";

/** A stall takes no more different products than an order has lines. */
const MOST_PRODUCTS = 500;
const MOST_FEE = 1_000_000_000;
const MOST_LOADING_MINUTES = 1440;

function usualFields(currency: string) {
  return {
    kind: textField({ most: 60, blank: true }),
    place: textField({ most: 200, blank: true }),
    opens: clockField(),
    closes: clockField(),
    fee: moneyField(currency, { least: 0, most: MOST_FEE }),
    loading: wholeNumberField({ least: 0, most: MOST_LOADING_MINUTES }),
  };
}

const opensBeforeItCloses = ({ opens, closes }: Pick<TypedUsual, "opens" | "closes">) => opens < closes;
const closesLater = { path: ["closes"], error: "It closes after it opens." };

interface TypedUsual {
  readonly opens: number;
  readonly closes: number;
  readonly fee: MinorUnits;
  readonly loading: number;
}

function renamed<Typed extends TypedUsual>({ opens, closes, fee, loading, ...rest }: Typed) {
  return { ...rest, opensMinute: opens, closesMinute: closes, feeMinor: fee, loadingMinutes: loading };
}

/** A market on one date. */
export function newMarketForm(currency: string) {
  return z
    .object({
      ...usualFields(currency),
      customer: idField("Choose a market."),
      held_on: dateField(),
      note: textField({ most: 2000, blank: true }),
    })
    .refine(opensBeforeItCloses, closesLater)
    .transform(({ customer, held_on, ...rest }) => ({
      ...renamed(rest),
      customerId: customer,
      heldOn: held_on,
      currency,
    }));
}

/** What may still change of a market on its date. */
export function changedMarketForm(currency: string) {
  return z
    .object({ ...usualFields(currency), note: textField({ most: 2000, blank: true }) })
    .refine(opensBeforeItCloses, closesLater)
    .transform((typed) => ({ ...renamed(typed), currency }));
}

/** How a market usually is and when it comes again. */
export function habitForm(currency: string) {
  return z
    .object({
      ...usualFields(currency),
      repeats: choiceField(["never", "weekly", "monthly"], "Choose when it comes again."),
      weeks_apart: blankOr(wholeNumberField({ least: 1, most: MOST_WEEKS_APART })),
      starts_on: blankOr(dateField()),
      ends_on: blankOr(dateField()),
    })
    .refine(opensBeforeItCloses, closesLater)
    .refine(({ repeats, starts_on }) => repeats === "never" || starts_on !== null, {
      path: ["starts_on"],
      error: "Choose the first date: the others follow from it.",
    })
    .refine(({ starts_on, ends_on }) => !starts_on || !ends_on || ends_on >= starts_on, {
      path: ["ends_on"],
      error: "It ends after it begins.",
    })
    .transform(({ repeats, weeks_apart, starts_on, ends_on, ...usual }) => {
      const comesAgain = repeats !== "never" && starts_on !== null;
      return {
        ...renamed(usual),
        currency,
        rule: comesAgain ? habitRule(repeats, weeks_apart ?? 1, starts_on) : null,
        startsOn: comesAgain ? starts_on : null,
        endsOn: comesAgain ? ends_on : null,
      };
    });
}

const seenField = z.string({ error: "Reload the page." }).max(64, { error: "Reload the page." });

/** How many of each product to take. */
export const crateForm = z.preprocess(
  withPieces,
  z.object({ lines: piecesField(MOST_PRODUCTS), seen: seenField }),
);

/** A form that only says yes. */
export const nothingForm = z.object({});

export const listForm = z.object({ order: idField("Choose a crate list.") });

/** What came home: rows of lists sent side by side; mistakes stand at "rows.3.home", counted from 0. */
export const countForm = z.preprocess(
  (body) => (typeof body === "object" && body !== null ? { ...body, rows: rowsOf(body, countFields) } : body),
  z.object({
    rows: z
      .array(z.record(z.string(), z.string()))
      .transform((rows, context) => rows.flatMap((row, place) => readRow(row, place, context))),
    seen: seenField,
  }),
);

const countFields = {
  productId: "product",
  taken: "taken",
  home: "home",
  givenAway: "given_away",
  soldOut: "sold_out_at",
} as const;

/** One product as it was counted, and the place of its row, from 0. */
export interface CountedRow {
  readonly place: number;
  readonly productId: number;
  readonly takenUnits: number;
  readonly homeUnits: number;
  readonly givenAwayUnits: number;
  readonly soldOutMinute: number | null;
}

const units = wholeNumberField({ least: 0, most: MOST_TAKEN });
const noUnits = blankOr(units);

/** A row in which nothing was typed is not there; of one that is, taken and home are needed. */
function readRow(
  row: Readonly<Record<string, string>>,
  place: number,
  context: z.RefinementCtx,
): readonly CountedRow[] {
  const { taken = "", home = "", givenAway = "", soldOut = "" } = row;
  if ([taken, home, givenAway, soldOut].every((typed) => typed.trim() === "")) return [];
  const read = {
    product: idField("Reload the page.").safeParse(row.productId),
    taken: units.safeParse(taken),
    home: units.safeParse(home),
    given_away: noUnits.safeParse(givenAway),
    sold_out_at: blankOr(clockField()).safeParse(soldOut),
  };
  for (const [field, { error }] of Object.entries(read))
    for (const issue of error?.issues ?? [])
      context.addIssue({ code: "custom", path: [place, field], message: issue.message });
  if (!read.product.success || !read.taken.success || !read.home.success) return [];
  if (!read.given_away.success || !read.sold_out_at.success) return [];
  const counted = {
    place,
    productId: read.product.data,
    takenUnits: read.taken.data,
    homeUnits: read.home.data,
    givenAwayUnits: read.given_away.data ?? 0,
    soldOutMinute: read.sold_out_at.data,
  };
  const wrong = whyWrong(counted);
  if (wrong) context.addIssue({ code: "custom", path: [place, wrong.field], message: wrong.sentence });
  return wrong ? [] : [counted];
}

function whyWrong({ takenUnits, homeUnits, givenAwayUnits, soldOutMinute }: CountedRow) {
  if (homeUnits + givenAwayUnits > takenUnits)
    return { field: "home", sentence: `That is more than the ${takenUnits} that were taken.` };
  if (soldOutMinute !== null && (homeUnits > 0 || takenUnits === 0))
    return { field: "sold_out_at", sentence: "Leave this empty: it did not sell out." };
  return null;
}
