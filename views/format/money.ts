import { onceFor } from "../../server/basics/onceFor.ts";
import { decimalsOf } from "../../server/money/currencies.ts";

/*
 * Where money becomes words. Amounts are whole minor units; they go to the formatter as exact decimal text, never as
 * a binary fraction.
 */

/** "€4.50", "¥450", "KWD 4.500": an amount in its currency. */
export function moneyWords(minor: number, currency: string): string {
  return formatOf(currency)
    .format(decimalText(minor, decimalsOf(currency)))
    .replaceAll(",", "\u202f");
}

/** "4.50": an amount as it is typed into a field whose label says the currency. */
export function plainMoney(minor: number, currency: string): string {
  return decimalText(minor, decimalsOf(currency));
}

/** "12.5 %", from basis points. */
export function shareWords(basisPoints: number): string {
  return `${plainShare(basisPoints)}\u202f%`;
}

/** "12.5", from basis points, as it is typed. */
export function plainShare(basisPoints: number): string {
  return withoutZeros(decimalText(basisPoints, 2));
}

/** "8.875 %", from parts per million. */
export function taxRateWords(ratePpm: number): string {
  return `${plainFineShare(ratePpm)}\u202f%`;
}

/** "8.875", from parts per million, as it is typed. */
export function plainFineShare(partsPerMillion: number): string {
  return withoutZeros(decimalText(partsPerMillion, 4));
}

/** "Euro (EUR)". */
export function currencyWords(currency: string): string {
  const name = currencyNames.of(currency);
  return name === undefined || name === currency ? currency : `${name} (${currency})`;
}

// A formatter costs far more to make than to use.
const formatOf = onceFor((currency) => {
  const decimals = decimalsOf(currency);
  return new Intl.NumberFormat("en-GB", {
    style: "currency",
    currency,
    // A sign that stands for one currency only, or the code.
    currencyDisplay: "symbol",
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
  });
});

const currencyNames = new Intl.DisplayNames("en", { type: "currency" });

type DecimalText = `${number}`;

function decimalText(scaled: number, decimals: number): DecimalText {
  const digits = String(Math.abs(scaled)).padStart(decimals + 1, "0");
  const whole = digits.slice(0, digits.length - decimals);
  const fraction = decimals === 0 ? "" : `.${digits.slice(-decimals)}`;
  return `${scaled < 0 ? "-" : ""}${whole}${fraction}` as DecimalText;
}

function withoutZeros(text: string): string {
  return text.replace(/\.?0+$/, "");
}
