import { type NamedParcel, parcelWeightWords, parcelWords } from "../delivery/parcelWords.ts";
import { shortDayWords } from "../format/dates.ts";
import { moneyWords, shareWords } from "../format/money.ts";
import { pieces, wholeWords } from "../format/quantities.ts";
import { termsWords } from "./stateWords.ts";

/** The content of an order as its history keeps it. */
interface WrittenOrder {
  readonly reference: string;
  readonly customer: string;
  readonly terms: "complete" | "as-ready" | "market";
  readonly shipBy: string;
  readonly note: string;
  readonly lines: readonly WrittenLine[];
  // Entries written before orders had money have none of these.
  readonly neededBy?: string | null | undefined;
  readonly customerReference?: string | undefined;
  readonly currency?: string | undefined;
  readonly discountBasisPoints?: number | undefined;
  readonly shippingMinor?: number | undefined;
}

interface WrittenLine {
  readonly product: string;
  readonly units: number;
  readonly unitPriceMinor?: number | null | undefined;
  readonly discountBasisPoints?: number | undefined;
}

interface WrittenParcel extends NamedParcel {
  readonly costMinor: number | null;
}

/** One entry of an order's history, as far as it could be read. */
export interface HistoryEntry {
  readonly id: number;
  readonly at: Date;
  readonly person: string | null;
  readonly what: string;
  /** Pieces it was about, where it was about pieces. */
  readonly units: number | null;
  /** The number of the invoice or credit note it was about. */
  readonly paper: string | null;
  /** Parcels as they were and as they are; none where it was not about parcels. */
  readonly parcels: { readonly before: readonly WrittenParcel[]; readonly after: readonly WrittenParcel[] };
  /** What was loaded into the car or taken out of it; null where it was not about the crate. */
  readonly crate: { readonly units: number; readonly lotCode: string } | null;
  /** What parcels cost is in. */
  readonly currency: string;
  readonly before: WrittenOrder | null;
  readonly after: WrittenOrder | null;
}

/** Changes whose names need their object to be understood on the page of the order itself. */
const told: Readonly<Record<string, string>> = {
  "packed into": "packed into its box",
  "unpacked from": "taken out of its box",
  paid: "payment entered",
};

/** What happened, without who and when: "changed: ship-by Fri 5 Mar → Mon 8 Mar; Cedar ball 24 → 36". */
export function historyWords(entry: HistoryEntry): string {
  if (entry.before && entry.after)
    return `${entry.what}: ${differences(entry.before, entry.after).join("; ") || "nothing that is kept"}`;
  if (entry.after) return `${entry.what}: ${contentWords(entry.after)}`;
  const what = told[entry.what] ?? entry.what;
  if (entry.paper) return `${what}: ${entry.paper}`;
  if (entry.crate) return `${what}: ${pieces(entry.crate.units)} of ${entry.crate.lotCode}`;
  const parcels = parcelChange(entry);
  if (parcels !== "") return `${what}: ${parcels}`;
  if (!entry.units) return what;
  return what === "cancelled"
    ? `cancelled, ${pieces(entry.units)} back on the shelf`
    : `${what}: ${pieces(entry.units)}`;
}

/** "Heron Post, 1 250 g, HP 4711" where one came or went, "weight none → 1 250 g" where it was changed. */
function parcelChange({ parcels: { before, after }, currency }: HistoryEntry): string {
  const costWords = (minor: number | null) => (minor === null ? "none" : moneyWords(minor, currency));
  const whole = (parcel: WrittenParcel) =>
    parcel.costMinor === null
      ? parcelWords(parcel, false)
      : `${parcelWords(parcel, false)}, for ${costWords(parcel.costMinor)}`;
  const [was] = before;
  const [is] = after;
  if (!was || !is) return [...before, ...after].map(whole).join("; ");
  const facts: readonly (readonly [string, string, string])[] = [
    ["carrier", was.carrier || "none", is.carrier || "none"],
    ["service", was.service || "none", is.service || "none"],
    ["weight", parcelWeightWords(was.grams, false) || "none", parcelWeightWords(is.grams, false) || "none"],
    ["number", was.tracking || "none", is.tracking || "none"],
    ["cost", costWords(was.costMinor), costWords(is.costMinor)],
  ];
  return movedWords(facts).join("; ");
}

/** "carrier Heron Post → none" of each fact that is not what it was. */
function movedWords(facts: readonly (readonly [name: string, was: string, is: string])[]): readonly string[] {
  return facts.filter(([, was, is]) => was !== is).map(([name, was, is]) => `${name} ${was} → ${is}`);
}

function contentWords(order: WrittenOrder): string {
  const units = order.lines.reduce((sum, line) => sum + line.units, 0);
  return `${pieces(units)} for ${order.customer} by ${shortDayWords(order.shipBy)}`;
}

function differences(before: WrittenOrder, after: WrittenOrder): readonly string[] {
  const heads: readonly (readonly [string, string, string])[] = [
    ["reference", before.reference, after.reference],
    ["customer", before.customer, after.customer],
    ["delivery", termsWords(before.terms), termsWords(after.terms)],
    ["ship-by", shortDayWords(before.shipBy), shortDayWords(after.shipBy)],
    ["needed by", dayOrNone(before.neededBy), dayOrNone(after.neededBy)],
    ["their number", before.customerReference || "none", after.customerReference || "none"],
    ["discount", shareWords(before.discountBasisPoints ?? 0), shareWords(after.discountBasisPoints ?? 0)],
    ["shipping", amountOf(before, before.shippingMinor ?? 0), amountOf(after, after.shippingMinor ?? 0)],
  ];
  const note = before.note === after.note ? [] : ["note"];
  return [
    ...movedWords(heads),
    ...note,
    ...lineDifferences(before, after),
    ...priceDifferences(before, after),
  ];
}

function lineDifferences(before: WrittenOrder, after: WrittenOrder): readonly string[] {
  const was = new Map(before.lines.map((line) => [line.product, line.units]));
  const is = new Map(after.lines.map((line) => [line.product, line.units]));
  return [...new Set([...was.keys(), ...is.keys()])]
    .filter((product) => was.get(product) !== is.get(product))
    .map((product) => `${product} ${unitWords(was.get(product))} → ${unitWords(is.get(product))}`);
}

/** Of lines that stand on both sides; what a new line costs is told by the order itself. */
function priceDifferences(before: WrittenOrder, after: WrittenOrder): readonly string[] {
  const priceOf = (order: WrittenOrder, { unitPriceMinor, discountBasisPoints }: WrittenLine) => {
    const price = typeof unitPriceMinor === "number" ? amountOf(order, unitPriceMinor) : "as listed";
    return discountBasisPoints ? `${price} less ${shareWords(discountBasisPoints)}` : price;
  };
  return before.lines.flatMap((line) => {
    const same = after.lines.find(({ product }) => product === line.product);
    if (!same || priceOf(before, line) === priceOf(after, same)) return [];
    return [`${line.product} at ${priceOf(before, line)} → ${priceOf(after, same)}`];
  });
}

function amountOf({ currency }: WrittenOrder, minor: number): string {
  return currency === undefined ? String(minor) : moneyWords(minor, currency);
}

function dayOrNone(date: string | null | undefined): string {
  return date ? shortDayWords(date) : "none";
}

function unitWords(units: number | undefined): string {
  return units === undefined ? "none" : wholeWords(units);
}
