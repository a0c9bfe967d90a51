import { z } from "zod";
import { moneyWords, shareWords, taxRateWords } from "../../views/format/money.ts";
import { decimalsOf } from "../money/currencies.ts";
import type { MinorUnits } from "../money/minorUnits.ts";
import { type MoneyRefusal, parseMoney } from "../money/parseMoney.ts";

/*
 * Fields in which money and shares are typed. They are read digit by digit into whole numbers: no amount is ever a
 * binary fraction.
 */

/** An amount in the given currency, between two bounds in minor units, both included. */
export function moneyField(
  currency: string,
  limits: { readonly least: number; readonly most: number },
): z.ZodType<MinorUnits> {
  return z.string({ error: "Fill this in." }).transform((typed, context) => {
    const amount = readAmount(typed, currency, limits);
    if (typeof amount !== "string") return amount;
    context.addIssue({ code: "custom", message: amount });
    return z.NEVER;
  }) as unknown as z.ZodType<MinorUnits>;
}

/** The amount, or the sentence that says what is wrong with it. */
function readAmount(
  typed: string,
  currency: string,
  { least, most }: { readonly least: number; readonly most: number },
): MinorUnits | string {
  if (typed.trim() === "") return "Fill this in.";
  const read = parseMoney(typed, currency);
  if (!read.ok) return moneySentence(read.refusal, typed, currency);
  if (read.value >= least && read.value <= most) return read.value;
  return `Give an amount from ${moneyWords(least, currency)} to ${moneyWords(most, currency)}.`;
}

/** What to say of a text that is no amount of the currency. */
export function moneySentence(refusal: MoneyRefusal, typed: string, currency: string): string {
  const decimals = decimalsOf(currency);
  const example = decimals === 0 ? "450" : `4.${"50".padEnd(decimals, "0").slice(0, decimals)}`;
  switch (refusal) {
    case "not-an-amount":
      return `Give an amount such as ${example}.`;
    case "too-many-decimals":
      return decimals === 0
        ? `Amounts in ${currency} have no decimals: give one such as ${example}.`
        : `Amounts in ${currency} have at most ${decimals} decimals: give one such as ${example}.`;
    case "ambiguous": {
      const digits = typed.replaceAll(/[^\d.,]/g, "");
      const [whole = "", rest = ""] = digits.split(/[.,]/);
      return `This could be read in two ways: write ${whole}${rest} for the large amount, or ${whole}.${rest.slice(0, decimals)} for the small one.`;
    }
    case "too-much":
      return "That is more than anything here may cost.";
  }
}

/** A share with at most two decimals of a per cent, in basis points: from nothing to the whole, or to `most`. */
export function shareField({ most = 10_000 }: { readonly most?: number } = {}): z.ZodType<number> {
  return scaledField(2, most, `Give a percentage from 0 to ${shareWords(most)} with at most 2 decimals.`);
}

/** A tax rate of 0 to 100 per cent with at most four decimals, in parts per million. */
export function taxRateField(): z.ZodType<number> {
  return scaledField(
    4,
    1_000_000,
    `Give a rate from 0 to ${taxRateWords(1_000_000)} with at most 4 decimals.`,
  );
}

/** A share with at most four decimals of a per cent, in parts per million. */
export function fineShareField(): z.ZodType<number> {
  return scaledField(4, 1_000_000, "Give a percentage from 0 to 100 with at most 4 decimals.");
}

function scaledField(decimals: number, most: number, message: string): z.ZodType<number> {
  const form = new RegExp(`^(\\d{1,4})(?:[.,](\\d{1,${decimals}}))?$`);
  return z.string({ error: "Fill this in." }).transform((typed, context) => {
    const text = typed.replaceAll(/[\s%]/g, "");
    const [, whole = "", fraction = ""] = form.exec(text) ?? [];
    const scaled = Number(`${whole}${fraction.padEnd(decimals, "0")}`);
    if (whole !== "" && scaled <= most) return scaled;
    context.addIssue({ code: "custom", message: text === "" ? "Fill this in." : message });
    return z.NEVER;
  }) as unknown as z.ZodType<number>;
}
