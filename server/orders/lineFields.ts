import { z } from "zod";
import { blankOr, idField, rowsOf, wholeNumberField } from "../http/formFields.ts";
import { moneyField, shareField } from "../http/moneyFields.ts";
import { MOST_LINES, MOST_UNITS, type OrderedProduct } from "./order.ts";

/** Dearest price of a piece, in minor units; the tables hold no dearer one. */
export const MOST_UNIT_PRICE_MINOR = 10_000_000;

/** A line of the form and the place it was sent in, from 0, blank lines counted: a refusal finds its way back. */
export interface FormLine extends OrderedProduct {
  readonly place: number;
  readonly unitPriceMinor: number | null;
  readonly discountBasisPoints: number;
}

/** A line as it was typed. */
type TypedLine = Readonly<Record<"product" | "units" | "price" | "discount", string>>;

/** The lines of a sent form as they were typed, blank ones too: four lists side by side. */
export function typedLines(body: unknown): readonly TypedLine[] {
  return rowsOf(body, {
    product: "product",
    units: "units",
    price: "unit_price",
    discount: "line_discount",
  });
}

/**
 * The lines read; one in which nothing is typed is not there. Mistakes stand at "lines.3.product", "lines.3.units",
 * "lines.3.unit_price" and "lines.3.line_discount", counted from 0 as the lines were sent.
 */
export function linesField(currency: string): z.ZodType<readonly FormLine[]> {
  const lines = z
    .array(z.custom<TypedLine>())
    .transform((typed, context) => readLines(typed, currency, context));
  return lines as unknown as z.ZodType<readonly FormLine[]>;
}

/** The lines that can be read, whatever is wrong with the others: for looking at a form that is still being typed. */
export function readableLines(typed: readonly TypedLine[], currency: string): readonly FormLine[] {
  const read = lineReader(currency);
  const products = new Set<number>();
  return filledLines(typed)
    .slice(0, MOST_LINES)
    .flatMap(([place, line]) => {
      const { value } = read(line, place);
      if (value === null || products.has(value.productId)) return [];
      products.add(value.productId);
      return [value];
    });
}

function readLines(
  typed: readonly TypedLine[],
  currency: string,
  context: z.RefinementCtx,
): readonly FormLine[] {
  const filled = filledLines(typed);
  if (filled.length === 0) mistake(context, [], "Nothing is ordered yet: fill in a line.");
  if (filled.length > MOST_LINES) {
    // Without a look at the lines: a mistake in each of a hundred thousand would take seconds to say.
    mistake(context, [], `One order takes at most ${MOST_LINES} lines.`);
    return [];
  }
  const read = lineReader(currency);
  const lines: FormLine[] = [];
  const firstPlace = new Map<number, number>();
  for (const [place, line] of filled) {
    const { value, mistakes } = read(line, place);
    for (const [field, sentence] of mistakes) mistake(context, [place, field], sentence);
    if (value === null) continue;
    const first = firstPlace.get(value.productId);
    if (first === undefined) firstPlace.set(value.productId, place);
    else
      mistake(context, [place, "product"], `This product stands in line ${first + 1} already; add it there.`);
    lines.push(value);
  }
  return lines;
}

function filledLines(typed: readonly TypedLine[]): readonly (readonly [number, TypedLine])[] {
  return [...typed.entries()].filter(([, line]) => Object.values(line).some((text) => text.trim() !== ""));
}

interface ReadLine {
  readonly value: FormLine | null;
  /** Field and sentence. */
  readonly mistakes: readonly (readonly [string, string])[];
}

function lineReader(currency: string): (typed: TypedLine, place: number) => ReadLine {
  const fields = {
    product: idField("Choose a product."),
    units: wholeNumberField({ least: 1, most: MOST_UNITS }),
    price: blankOr(moneyField(currency, { least: 0, most: MOST_UNIT_PRICE_MINOR })),
    discount: blankOr(shareField()),
  };
  return (typed, place) => {
    const product = fields.product.safeParse(typed.product);
    const units = fields.units.safeParse(typed.units);
    const price = fields.price.safeParse(typed.price);
    const discount = fields.discount.safeParse(typed.discount);
    const read = { product, units, unit_price: price, line_discount: discount };
    const mistakes = Object.entries(read).flatMap(([field, { error }]) =>
      error ? [[field, error.issues[0]?.message ?? "Look at this again."] as const] : [],
    );
    if (!product.success || !units.success || !price.success || !discount.success)
      return { value: null, mistakes };
    const value = {
      productId: product.data,
      units: units.data,
      unitPriceMinor: price.data,
      discountBasisPoints: discount.data ?? 0,
      place,
    };
    return { value, mistakes };
  };
}

function mistake(context: z.RefinementCtx, path: (string | number)[], message: string): void {
  context.addIssue({ code: "custom", path, message });
}
