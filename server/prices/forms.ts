import { z } from "zod";
import {
  blankOr,
  choiceField,
  dateField,
  idField,
  rowsOf,
  textField,
  tickField,
  wholeNumberField,
} from "../http/formFields.ts";
import { moneyField, shareField, taxRateField } from "../http/moneyFields.ts";
import { isCurrency } from "../money/currencies.ts";
import type { MinorUnits } from "../money/minorUnits.ts";

/** Dearest price of a piece, in minor units. */
const MOST_PRICE = 10_000_000;
/** Pieces in a case at most. */
const MOST_CASE = 10_000;
/** A copied list asks at most ten times as much, in basis points. */
const MOST_COPIED = 100_000;

export const moneyForm = z
  .object({
    currency: textField({ most: 3 }).refine(isCurrency, { error: "Choose a currency from the list." }),
    rounding: choiceField(["line", "order"], "Choose how amounts are rounded."),
    usualTaxGroup: blankOr(idField()),
    makingCost: shareField(),
    leftoverLoss: shareField(),
  })
  .transform(({ usualTaxGroup, makingCost, leftoverLoss, ...rest }) => ({
    ...rest,
    usualTaxGroupId: usualTaxGroup,
    makingCostBasisPoints: makingCost,
    leftoverLossBasisPoints: leftoverLoss,
  }));

export type MoneySettings = z.output<typeof moneyForm>;

const rateFields = z.object({ validFrom: dateField(), rate: taxRateField() });

export const taxRateForm = rateFields.transform(({ validFrom, rate }) => ({ validFrom, ratePpm: rate }));
export type NewTaxRate = z.output<typeof taxRateForm>;

export const taxGroupForm = z.object({ name: textField({ most: 80 }) });

export const newTaxGroupForm = taxGroupForm
  .extend(rateFields.shape)
  .transform(({ name, validFrom, rate }) => ({ name, validFrom, ratePpm: rate }));
export type NewTaxGroup = z.output<typeof newTaxGroupForm>;

export const priceListForm = z.object({ name: textField({ most: 80 }), usual: tickField() });
export type PriceListHead = z.output<typeof priceListForm>;

/** Without a list to copy the new one begins empty. */
export const newPriceListForm = priceListForm
  .extend({
    kind: choiceField(["wholesale", "retail"], "Choose who buys from it."),
    includesTax: choiceField(["yes", "no"], "Choose how its prices are stated.").transform(
      (chosen) => chosen === "yes",
    ),
    copyOf: blankOr(idField()),
    share: blankOr(shareField({ most: MOST_COPIED })),
    validFrom: dateField(),
  })
  .transform(({ share, copyOf, ...rest }) => ({
    ...rest,
    copy: copyOf === null ? null : { priceListId: copyOf, basisPoints: share ?? 10_000 },
  }));
export type NewPriceList = z.output<typeof newPriceListForm>;

/** A price to be set; null takes it away. */
export interface SetPrice {
  readonly productId: number;
  readonly unitPriceMinor: MinorUnits | null;
}

/**
 * A grid of prices. Product, price, and what the price was when the page was shown are sent side by side; only rows
 * in which something else was typed count, so that a date chosen later writes nothing that nobody meant.
 */
export function pricesForm(currency: string) {
  return z
    .preprocess(withRows, z.object({ validFrom: dateField(), prices: changedPrices(currency) }))
    .transform((form) => ({ ...form, currency }));
}

/** The same without a date: what making a piece costs. */
export function costsForm(currency: string) {
  return z
    .preprocess(withRows, z.object({ prices: changedPrices(currency) }))
    .transform((form) => ({ ...form, currency }));
}

function changedPrices(currency: string) {
  const price = blankOr(moneyField(currency, { least: 0, most: MOST_PRICE }));
  return z
    .array(z.object({ product: z.string(), price: z.string(), was: z.string() }))
    .transform((rows, context) => {
      const changed = [...rows.entries()].filter(([, row]) => row.price.trim() !== row.was);
      return changed.flatMap(([place, row]): SetPrice[] => {
        const read = price.safeParse(row.price);
        const product = idField("Reload the page.").safeParse(row.product);
        for (const { error } of [read, product])
          if (error)
            context.addIssue({
              code: "custom",
              path: [place, "price"],
              message: error.issues[0]?.message ?? "Look at this again.",
            });
        return read.success && product.success
          ? [{ productId: product.data, unitPriceMinor: read.data }]
          : [];
      });
    })
    .refine((prices) => new Set(prices.map(({ productId }) => productId)).size === prices.length, {
      error: "Each product has one price: reload the page.",
    });
}

export const usualCasesForm = z
  .preprocess(
    (body) => ({ cases: rowsOf(body, { shape: "caseShape", units: "caseUnits" }) }),
    z.object({
      cases: z.array(
        z.object({
          shape: idField("Reload the page."),
          units: blankOr(wholeNumberField({ least: 1, most: MOST_CASE })),
        }),
      ),
    }),
  )
  .transform(({ cases }) => cases.map(({ shape, units }) => ({ shapeId: shape, units })));
export type UsualCases = z.output<typeof usualCasesForm>;

function withRows(body: unknown): unknown {
  if (typeof body !== "object" || body === null) return body;
  return { ...body, prices: rowsOf(body, { product: "product", price: "price", was: "was" }) };
}
