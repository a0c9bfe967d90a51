import type { FoundInvoice } from "../../server/papers/queries.ts";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { moneyWords, shareWords, taxRateWords } from "../format/money.ts";
import { paperNumber } from "../format/paperNumber.ts";
import { counted, pieces, wholeWords } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import type { Paper, PaperCell, PaperSum } from "./paper.ts";
import { paperShop } from "./paperShop.ts";

type Line = FoundInvoice["lines"][number];
type CorrectedInvoice = Pick<FoundInvoice, "kind" | "year" | "number" | "issuedOn">;

/** An invoice or a credit note as it is printed; `corrects` is the invoice that a credit note takes from. */
export function invoicePaper(invoice: FoundInvoice, corrects: CorrectedInvoice | null): Paper {
  const { sellerName, sellerAddress, sellerTaxNumber, sellerBank, footer } = invoice;
  return {
    name: invoice.kind === "invoice" ? "Invoice" : "Credit note",
    number: paperNumber(invoice),
    dated: invoice.issuedOn,
    shop: paperShop({
      ...{ name: sellerName, address: sellerAddress, taxNumber: sellerTaxNumber, bank: sellerBank, footer },
    }),
    to: { name: invoice.customerName, address: invoice.customerAddress },
    facts: factsOf(invoice, corrects),
    columns: [
      { name: "What", number: false },
      { name: "Pieces", number: true },
      { name: "Each", number: true },
      { name: "Amount", number: true },
    ],
    rows: invoice.lines
      .filter(({ kind, units }) => kind === "goods" && units !== 0)
      .map((line) => ({ cells: cellsOf(line, invoice) })),
    sums: sumsOf(invoice),
    notes: notesOf(invoice),
    signatures: [],
  };
}

function factsOf(invoice: FoundInvoice, corrects: CorrectedInvoice | null): Paper["facts"] {
  const { leftOn, dueOn, netDays } = invoice;
  const left = leftOn.map((date) => dayWords(date, { year: true }));
  const facts: readonly (readonly [string, string])[] = [
    ["Date", dayWords(invoice.issuedOn, { year: true })],
    ["Order", invoice.orderReference],
    ["Your number", invoice.customerReference],
    ["Left us on", listed(left)],
    [
      "Corrects",
      corrects === null ? "" : `invoice ${paperNumber(corrects)} of ${shortDayWords(corrects.issuedOn)}`,
    ],
    ["Pay by", dueOn === null ? "" : `${dayWords(dueOn, { year: true })}${netWords(netDays)}`],
  ];
  return facts.filter(([, words]) => words !== "");
}

function netWords(netDays: number | null): string {
  return netDays ? ` (net ${counted(netDays, "day")})` : "";
}

function cellsOf(line: Line, { currency }: FoundInvoice): readonly PaperCell[] {
  const less = line.discountBasisPoints > 0 ? { aside: `less ${shareWords(line.discountBasisPoints)}` } : {};
  return [
    { words: line.what, ...asideOf(line) },
    { words: wholeWords(line.units ?? 0) },
    { words: moneyWords(line.unitPriceMinor, currency), ...less },
    { words: moneyWords(line.amountMinor, currency) },
  ];
}

/** Where ordered, sent and billed are not the same, the line says so. */
function asideOf({ units, orderedUnits, sentUnits }: Line): { readonly aside?: string } {
  if (orderedUnits === null || sentUnits === null || (units === orderedUnits && units === sentUnits))
    return {};
  return { aside: `ordered ${wholeWords(orderedUnits)}, sent so far ${wholeWords(sentUnits)}` };
}

function sumsOf(invoice: FoundInvoice): readonly PaperSum[] {
  const { currency, pricesIncludeTax, discountBasisPoints, lines, taxMinor } = invoice;
  const shipping = lines.find(({ kind }) => kind === "shipping");
  const sum = (name: string, minor: number): PaperSum => ({ name, words: moneyWords(minor, currency) });
  const taxes = byRate(lines).filter(({ minor }) => minor !== 0);
  const total = invoice.kind === "invoice" ? "Total" : "Credited in all";
  return [
    ...(lines.some(({ kind, units }) => kind === "goods" && units !== 0)
      ? [sum("Goods", invoice.goodsMinor)]
      : []),
    ...(invoice.discountMinor === 0
      ? []
      : [sum(`Discount of ${shareWords(discountBasisPoints)}`, -invoice.discountMinor)]),
    ...(shipping ? [sum("Shipping", shipping.amountMinor)] : []),
    ...(pricesIncludeTax
      ? []
      : [
          ...(taxes.length > 0 ? [sum("Without tax", invoice.netMinor)] : []),
          ...taxes.map(({ ratePpm, minor }) => sum(`Tax of ${taxRateWords(ratePpm)}`, minor)),
        ]),
    {
      ...sum(taxMinor > 0 && !pricesIncludeTax ? `${total} with tax` : total, invoice.grossMinor),
      strong: true,
    },
    ...(pricesIncludeTax
      ? [
          ...taxes.map(({ ratePpm, minor }) => sum(`In it tax of ${taxRateWords(ratePpm)}`, minor)),
          ...(taxes.length > 0 ? [sum("Without tax", invoice.netMinor)] : []),
        ]
      : []),
  ];
}

function byRate(lines: readonly Line[]): readonly { readonly ratePpm: number; readonly minor: number }[] {
  const rates = [...new Set(lines.map(({ taxPpm }) => taxPpm))].sort((one, other) => other - one);
  return rates.map((ratePpm) => ({
    ratePpm,
    minor: lines.filter(({ taxPpm }) => taxPpm === ratePpm).reduce((sum, { taxMinor }) => sum + taxMinor, 0),
  }));
}

function notesOf(invoice: FoundInvoice): readonly string[] {
  const { kind, reason, earlyUntil, earlyDiscountMinor, earlyDiscountBasisPoints, grossMinor, currency } =
    invoice;
  if (kind === "credit-note") return [`Why: ${reason}`];
  const early =
    earlyUntil === null || earlyDiscountMinor === null || earlyDiscountBasisPoints === null
      ? ""
      : `Paid by ${dayWords(earlyUntil, { year: true })} it is ${moneyWords(grossMinor - earlyDiscountMinor, currency)}: ${shareWords(earlyDiscountBasisPoints)} less, which is ${moneyWords(earlyDiscountMinor, currency)}.`;
  return [missingWords(invoice), early, invoice.paymentWords].filter((words) => words !== "");
}

/** What was ordered and has not left, or was billed before it did: never hidden on the paper that asks for money. */
function missingWords({ basis, lines }: FoundInvoice): string {
  const goods = lines.filter(({ kind }) => kind === "goods");
  const short = goods
    .map(({ what, orderedUnits, sentUnits }) => ({ what, units: (orderedUnits ?? 0) - (sentUnits ?? 0) }))
    .filter(({ units }) => units > 0);
  if (short.length === 0) return "";
  const list = short.map(({ what, units }) => `${wholeWords(units)} ${what}`).join(", ");
  const total = pieces(short.reduce((sum, { units }) => sum + units, 0));
  return basis === "left"
    ? `Ordered and not sent by this date, so not billed here: ${total}: ${list}.`
    : `Billed before they have left us: ${total}: ${list}.`;
}
