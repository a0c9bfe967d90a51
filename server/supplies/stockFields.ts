import type { z } from "zod";
import { blankOr, decimalField, tickField, wholeNumberField } from "../http/formFields.ts";

/** Days that one purchase covers unless somebody says otherwise. */
export const USUAL_COVER_DAYS = 14;

/** How a supply is kept and bought; the amount to have at any time is in grams or pieces. */
export function stockFields(least: z.ZodType<number>) {
  return {
    uncounted: tickField(),
    leastOnHand: blankOr(least),
    coverDays: blankOr(wholeNumberField({ least: 1, most: 366 })),
  };
}

export const leastGrams = decimalField({ least: 0, most: 1_000_000, decimals: 3 });
export const leastPieces = wholeNumberField({ least: 0, most: 10_000_000 });

/** @param scale 1000 for grams, of which a thousandth is counted; 1 for pieces */
export function stockFacts(
  typed: {
    readonly uncounted: boolean;
    readonly leastOnHand: number | null;
    readonly coverDays: number | null;
  },
  scale: 1 | 1000,
) {
  return {
    counted: !typed.uncounted,
    leastOnHand: Math.round((typed.leastOnHand ?? 0) * scale),
    coverDays: typed.coverDays ?? USUAL_COVER_DAYS,
  };
}
