/*
 * Numbers and element strings of the GS1 General Specifications. A shop that has no company prefix of its own has
 * none of them: nothing here makes one up.
 */

/** Lengths of the keys that end in a check digit: GTIN-8, GTIN-12, GTIN-13, GTIN-14, and the SSCC of a box. */
const keyLengths = [8, 12, 13, 14, 18];

/**
 * The check digit that belongs behind these digits: weights 3, 1, 3 .. from the right, to the next multiple of ten (GS1
 * General Specifications, 7.9).
 */
export function checkDigit(digits: string): number {
  if (!/^\d+$/.test(digits)) throw new RangeError(`not digits alone: "${digits}"`);
  let sum = 0;
  for (let fromRight = 0; fromRight < digits.length; fromRight++) {
    sum += Number(digits[digits.length - 1 - fromRight]) * (fromRight % 2 === 0 ? 3 : 1);
  }
  return (10 - (sum % 10)) % 10;
}

/** True for a key of a known length whose last digit is its check digit. */
export function isKey(digits: string): boolean {
  return (
    /^\d+$/.test(digits) &&
    keyLengths.includes(digits.length) &&
    checkDigit(digits.slice(0, -1)) === Number(digits.at(-1))
  );
}

/** Digits of a GTIN-13 before its check digit, shared by the company's prefix and its own number for the product. */
const GTIN13_BODY = 12;

/** Company prefixes have 4 to 12 digits as GS1 gives them out; those a maker gets leave room for a product number. */
export function isCompanyPrefix(digits: string): boolean {
  return /^\d{6,11}$/.test(digits);
}

/** How many products a prefix has numbers for. */
export function productNumbers(prefix: string): number {
  return 10 ** (GTIN13_BODY - prefix.length);
}

/** GTIN-13 of a product by the shop's own prefix and its number for it; throws where the number does not fit. */
export function gtin13(prefix: string, productNumber: number): string {
  if (!isCompanyPrefix(prefix)) throw new RangeError(`not a company prefix: "${prefix}"`);
  if (!Number.isInteger(productNumber) || productNumber < 0 || productNumber >= productNumbers(prefix)) {
    throw new RangeError(`the prefix has no product number ${productNumber}`);
  }
  const body = prefix + String(productNumber).padStart(GTIN13_BODY - prefix.length, "0");
  return body + checkDigit(body);
}

/** What a label's code says of a piece or a box. */
export interface Elements {
  /** GTIN-8 to GTIN-14. */
  readonly gtin: string;
  /** ISO date on which it was formed. */
  readonly producedOn: string | null;
  /** Our lot code: up to 20 characters of those that GS1 allows. */
  readonly lot: string | null;
}

/**
 * The elements in the order in which none needs a separator: (01) and (11) have their length, (10) stands last. The
 * plain form is what goes into a code, the bracketed one what stands below it.
 */
export function elementString({ gtin, producedOn, lot }: Elements): {
  readonly plain: string;
  readonly bracketed: string;
} {
  if (!isKey(gtin) || gtin.length > 14) throw new RangeError(`not a GTIN: "${gtin}"`);
  // The 82 characters of GS1 that a lot may have (General Specifications, figure 7.11-1), of which we use these.
  if (lot !== null && !/^[A-Z0-9-]{1,20}$/.test(lot)) throw new RangeError(`not a lot code: "${lot}"`);
  const elements: (readonly [string, string])[] = [["01", gtin.padStart(14, "0")]];
  if (producedOn !== null) elements.push(["11", producedOn.replaceAll("-", "").slice(2)]);
  if (lot !== null) elements.push(["10", lot]);
  return {
    plain: elements.map(([identifier, value]) => identifier + value).join(""),
    bracketed: elements.map(([identifier, value]) => `(${identifier})${value}`).join(""),
  };
}
