import { dateOf, dayWords } from "../format/dates.ts";
import { moneyWords, shareWords } from "../format/money.ts";
import { counted, wholeWords } from "../format/quantities.ts";
import type { ShownOrder } from "../orders/OrderPage.tsx";
import { termsWords } from "../orders/stateWords.ts";
import { moneySums } from "./moneySums.ts";
import type { Paper, PaperCell, PaperShop, PaperSum } from "./paper.ts";

/** What the workshop promises, on paper: for the customer to hold against what arrives. A draft is an offer. */
export function confirmationPaper(
  order: ShownOrder,
  { shop, today, timeZone }: { readonly shop: PaperShop; readonly today: string; readonly timeZone: string },
): Paper {
  const { confirmedAt, money, lines } = order;
  const priced = money.unpriced < money.lines.length;
  const facts: Paper["facts"] = [
    ["Date", dayWords(confirmedAt === null ? today : dateOf(confirmedAt, timeZone), { year: true })],
    ["Your number", order.customerReference],
    ["Leaves us by", dayWords(order.shipBy, { year: true })],
    ["Needed by", order.neededBy === null ? "" : dayWords(order.neededBy, { year: true })],
    ["Delivery", termsWords(order.terms)],
  ];
  return {
    name: confirmedAt === null ? "Offer" : "Order confirmation",
    number: order.reference,
    dated: confirmedAt === null ? today : dateOf(confirmedAt, timeZone),
    shop,
    to: { name: order.customer, address: order.address },
    facts: facts.filter(([, words]) => words !== ""),
    columns: [
      { name: "What", number: false },
      ...["Pieces", ...(priced ? ["Each", "Amount"] : [])].map((name) => ({ name, number: true })),
    ],
    rows: lines.map((line) => ({ cells: cellsOf(line, money.currency, priced) })),
    sums: priced ? sumsOf(order) : [],
    notes: priced && money.unpriced > 0 ? [unpricedWords(money.unpriced)] : [],
    signatures: [],
  };
}

function cellsOf(line: ShownOrder["lines"][number], currency: string, priced: boolean): readonly PaperCell[] {
  const counts = [{ words: line.product }, { words: wholeWords(line.units) }];
  if (!priced) return counts;
  const money = line.money;
  if (!money?.amounts || money.unitPriceMinor === null)
    return [...counts, { words: "no price" }, { words: "" }];
  const less =
    money.discountBasisPoints > 0 ? { aside: `less ${shareWords(money.discountBasisPoints)}` } : {};
  return [
    ...counts,
    { words: moneyWords(money.unitPriceMinor, currency), ...less },
    { words: moneyWords(money.amounts.amountMinor, currency) },
  ];
}

function sumsOf({ money }: ShownOrder): readonly PaperSum[] {
  return moneySums(money).map(({ name, minor, strong }) => ({
    name,
    words: moneyWords(minor, money.currency),
    ...(strong && { strong }),
  }));
}

function unpricedWords(lines: number): string {
  return `${counted(lines, "line")} ${lines === 1 ? "has" : "have"} no price, so this is not the whole.`;
}
