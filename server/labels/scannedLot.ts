/*
 * What a scanner types for a lot: our own cards' codes hold the bare lot or, where the shop has a number of its own for
 * the product, a GS1 element string; its bracketed form is what stands printed below codes.
 */

/** Ends an element of variable length: FNC1, which scanners send as group separator (GS1 General Specifications, 7.8). */
const SEPARATOR = "\u001d";

/**
 * Digits of the elements that have a length of their own, by the first two digits, these included (GS1 General
 * Specifications, figure "element strings with predefined length", from memory).
 */
const lengths: Readonly<Record<string, number>> = {
  ...{ "00": 20, "01": 16, "02": 16, "03": 16, "04": 18, "20": 4, "41": 16 },
  ...Object.fromEntries(["11", "12", "13", "14", "15", "16", "17", "18", "19"].map((first) => [first, 8])),
  ...Object.fromEntries(["31", "32", "33", "34", "35", "36"].map((first) => [first, 10])),
};

/**
 * The lot code in what was typed or scanned, in capitals: the code itself or element (10) of an element string, with or
 * without the scanner's own mark of the kind of code in front. Null where there is none.
 */
export function scannedLot(typed: string): string | null {
  const text = typed
    .trim()
    .replace(/^\][A-Za-z]\d/, "")
    .toUpperCase();
  if (isLotCode(text)) return text;
  const found = text.startsWith("(") ? /\(10\)([^(]+)/.exec(text)?.[1] : lotElement(text);
  const lot = found?.trim();
  return lot !== undefined && isLotCode(lot) ? lot : null;
}

function isLotCode(text: string): boolean {
  return /^[A-Z0-9]{3,8}$/.test(text);
}

/** Walks from element to element until it comes to (10), which lasts to the next separator or the end. */
function lotElement(elements: string): string | undefined {
  let rest = elements;
  while (rest !== "") {
    if (rest.startsWith(SEPARATOR)) rest = rest.slice(1);
    const first = rest.slice(0, 2);
    const [element = ""] = rest.split(SEPARATOR);
    if (first === "10") return element.slice(2);
    rest = rest.slice(lengths[first] ?? (element.length || 1));
  }
  return undefined;
}
