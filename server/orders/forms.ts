import { z } from "zod";
import {
  choiceField,
  dateField,
  idField,
  repeatedField,
  textField,
  wholeNumberField,
} from "../http/formFields.ts";
import { MOST_LINES, MOST_UNITS, type OrderedProduct, orderTerms } from "./order.ts";

/** Room for a paragraph of wishes. */
const MOST_NOTE = 2000;

/** One line, at most 40 characters, nothing invisible in it. */
export const referenceField = textField({ most: 40, blank: true }).refine((typed) => !/\p{Cc}/u.test(typed), {
  error: "Use one line without control characters.",
});

const headFields = {
  customer: idField("Choose a customer."),
  terms: z
    .union([z.literal(""), choiceField(orderTerms, "Choose how it is delivered.")], {
      error: "Choose how it is delivered.",
    })
    .transform((chosen) => (chosen === "" ? null : chosen)),
  ship_by: dateField(),
  note: textField({ most: MOST_NOTE, blank: true }),
};

/**
 * Lines are sent as two lists, `product` and `units`, side by side. A line with neither is not there. Mistakes stand
 * at "lines.3.product" and "lines.3.units", counted from 0 as the lines were sent.
 */
const linesField = z
  .array(z.object({ product: z.string(), units: z.string() }))
  .transform((typed, context) => readLines(typed, context));

/** A line of the form and the place it was sent in, from 0, blank lines counted: a refusal finds its way back. */
export interface FormLine extends OrderedProduct {
  readonly place: number;
}

export const newOrderForm = z
  .preprocess(
    withLines,
    z.object({
      reference: referenceField.transform((typed) => (typed === "" ? null : typed)),
      ...headFields,
      lines: linesField,
      save: choiceField(["draft", "confirm"], "Save it as a draft or confirm it."),
    }),
  )
  .transform(({ customer, ship_by, save, ...rest }) => ({
    ...rest,
    customerId: customer,
    shipBy: ship_by,
    confirm: save === "confirm",
  }));

export const changedOrderForm = z
  .preprocess(
    withLines,
    z.object({
      reference: referenceField.refine((typed) => typed !== "", { error: "Fill this in." }),
      ...headFields,
      lines: linesField,
      seen: z.string({ error: "Reload the page." }).regex(/^[0-9a-f]{32}$/, { error: "Reload the page." }),
    }),
  )
  .transform(({ customer, ship_by, ...rest }) => ({ ...rest, customerId: customer, shipBy: ship_by }));

/** The lines of a sent form as they were typed, blank ones too. */
export function typedLines(body: unknown): readonly TypedLine[] {
  const product = listOf(body, "product");
  const units = listOf(body, "units");
  const count = Math.max(product.length, units.length);
  return Array.from({ length: count }, (_, place) => ({
    product: product[place] ?? "",
    units: units[place] ?? "",
  }));
}

interface TypedLine {
  readonly product: string;
  readonly units: string;
}

function withLines(body: unknown): unknown {
  return typeof body === "object" && body !== null ? { ...body, lines: typedLines(body) } : body;
}

function listOf(body: unknown, name: "product" | "units"): readonly string[] {
  const sent =
    typeof body === "object" && body !== null && name in body ? Reflect.get(body, name) : undefined;
  const list = repeatedField().safeParse(sent);
  return list.success ? list.data : [];
}

function readLines(typed: readonly TypedLine[], context: z.RefinementCtx): readonly FormLine[] {
  const filled = [...typed.entries()].filter(([, line]) => line.product !== "" || line.units.trim() !== "");
  if (filled.length === 0) mistake(context, [], "Nothing is ordered yet: fill in a line.");
  if (filled.length > MOST_LINES) {
    // Without a look at the lines: a mistake in each of a hundred thousand would take seconds to say.
    mistake(context, [], `One order takes at most ${MOST_LINES} lines.`);
    return [];
  }
  const lines: FormLine[] = [];
  const firstPlace = new Map<number, number>();
  for (const [place, line] of filled) {
    const read = readLine(line, place, context);
    if (read === null) continue;
    const first = firstPlace.get(read.productId);
    if (first === undefined) firstPlace.set(read.productId, place);
    else
      mistake(context, [place, "product"], `This product stands in line ${first + 1} already; add it there.`);
    lines.push(read);
  }
  return lines;
}

const productField = idField("Choose a product.");
const unitsField = wholeNumberField({ least: 1, most: MOST_UNITS });

function readLine(typed: TypedLine, place: number, context: z.RefinementCtx): FormLine | null {
  const product = productField.safeParse(typed.product);
  const units = unitsField.safeParse(typed.units);
  for (const [field, read] of [["product", product] as const, ["units", units] as const])
    if (!read.success)
      mistake(context, [place, field], read.error.issues[0]?.message ?? "Look at this again.");
  return product.success && units.success ? { productId: product.data, units: units.data, place } : null;
}

function mistake(context: z.RefinementCtx, path: (string | number)[], message: string): void {
  context.addIssue({ code: "custom", path, message });
}
