import { onceFor } from "../basics/onceFor.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { decimalsOf } from "./currencies.ts";
import { type MinorUnits, minorUnits } from "./minorUnits.ts";

/**
 * Why a text is no amount: not written as one; more decimals than the currency has; "1.234", which is twelve hundred
 * and something to one and a little more than one to the other; or more than anything here may cost.
 */
export type MoneyRefusal = "not-an-amount" | "too-many-decimals" | "ambiguous" | "too-much";

/** Digits of the largest amount that is read; the limits of each field are far below. */
const MOST_DIGITS = 15;

/**
 * Reads an amount as people type it: "4.50", "4,5", "1 234,50", "1'234.50", "1.234,50 EUR", "€ 4.50". The last mark is
 * the decimal one; marks before it stand between groups of three. One mark before exactly three digits is read as the
 * decimal mark where the currency has three decimals, as a group's where it has none, and is otherwise refused rather
 * than guessed. Amounts are not negative.
 */
export function parseMoney(typed: string, currency: string): Result<MinorUnits, MoneyRefusal> {
  const text = withoutCurrency(typed.trim(), currency);
  const decimals = decimalsOf(currency);
  const read = readMarks(text, decimals);
  if (typeof read === "string") return refuse(read);
  if (read.fraction.length > decimals) return refuse("too-many-decimals");
  const digits = `${read.whole}${read.fraction.padEnd(decimals, "0")}`.replace(/^0+(?=\d)/, "");
  return digits.length > MOST_DIGITS ? refuse("too-much") : ok(minorUnits(BigInt(digits)));
}

/** The currency's own code or sign may stand on either side. */
function withoutCurrency(text: string, currency: string): string {
  for (const name of [currency, currency.toLowerCase(), signOf(currency)]) {
    if (text.startsWith(name)) return text.slice(name.length).trim();
    if (text.endsWith(name)) return text.slice(0, -name.length).trim();
  }
  return text;
}

const signOf = onceFor((currency) => {
  const parts = new Intl.NumberFormat("en", {
    style: "currency",
    currency,
    currencyDisplay: "narrowSymbol",
  }).formatToParts(1);
  return parts.find((part) => part.type === "currency")?.value ?? currency;
});

interface Read {
  readonly whole: string;
  readonly fraction: string;
}

/** Blanks of every width, apostrophes, point and comma. */
const GROUPED = /^\d{1,3}(?:([\s.,'’])\d{3})(?:\1\d{3})*$/u;
const WITH_FRACTION = /^(.*\d)([.,])(\d+)$/u;

function readMarks(text: string, decimals: number): Read | MoneyRefusal {
  if (/^\d+$/.test(text)) return { whole: text, fraction: "" };
  if (isOneMarkBeforeThree(text)) {
    if (decimals !== 0 && decimals !== 3 && !text.startsWith("0")) return "ambiguous";
    if (decimals === 0 && !text.startsWith("0")) return { whole: text.replace(/[.,]/, ""), fraction: "" };
  }
  const [, whole = "", mark = "", fraction = ""] = WITH_FRACTION.exec(text) ?? [];
  if (fraction !== "" && !whole.includes(mark) && (/^\d+$/.test(whole) || GROUPED.test(whole)))
    return { whole: whole.replaceAll(/\D/g, ""), fraction };
  return GROUPED.test(text) ? { whole: text.replaceAll(/\D/g, ""), fraction: "" } : "not-an-amount";
}

function isOneMarkBeforeThree(text: string): boolean {
  return /^\d{1,3}[.,]\d{3}$/.test(text);
}
