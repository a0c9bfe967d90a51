import type { Standing } from "../../server/papers/ageing.ts";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { paperNumber } from "../format/paperNumber.ts";
import { counted } from "../format/quantities.ts";
import type { Paper, PaperCell, PaperShop, PaperSum } from "./paper.ts";

interface StatementInvoice {
  readonly kind: "invoice" | "credit-note";
  readonly year: number;
  readonly number: number;
  readonly orderReference: string;
  readonly issuedOn: string;
  readonly dueOn: string;
  readonly currency: string;
  readonly grossMinor: number;
  readonly creditedMinor: number;
  readonly settledMinor: number;
  readonly openMinor: number;
  /** 0 where it is not due yet, or nothing of it is open. */
  readonly daysOverdue: number;
}

export interface ShownStatement {
  readonly customer: { readonly id: number; readonly name: string; readonly address: string };
  readonly invoices: readonly (StatementInvoice & { readonly id: number })[];
  readonly standing: Standing;
  readonly currency: string;
  readonly today: string;
}

/** What a customer has still to pay, invoice by invoice, and how long it is overdue. */
export function statementPaper(statement: ShownStatement, { shop }: { readonly shop: PaperShop }): Paper {
  const { customer, invoices, standing, currency, today } = statement;
  const money = (minor: number) => moneyWords(minor, currency);
  return {
    name: "Statement",
    number: shortDayWords(today),
    dated: today,
    shop,
    to: customer,
    facts: [
      ["As of", dayWords(today, { year: true })],
      ["Still to pay", money(standing.balanceMinor)],
      ["Of it overdue", money(standing.overdueMinor)],
    ],
    columns: [
      { name: "Invoice", number: false },
      { name: "Due", number: false },
      { name: "Billed", number: true },
      { name: "Settled", number: true },
      { name: "Open", number: true },
    ],
    rows: invoices.map((invoice) => ({ cells: cellsOf(invoice) })),
    sums: ageSums(standing, money),
    notes: invoices.length === 0 ? ["Nothing is open. Thank you."] : [],
    signatures: [],
  };
}

function cellsOf(invoice: StatementInvoice): readonly PaperCell[] {
  const { currency, grossMinor, creditedMinor, settledMinor, openMinor, dueOn, daysOverdue } = invoice;
  const money = (minor: number) => moneyWords(minor, currency);
  return [
    { words: paperNumber(invoice), aside: `${invoice.orderReference}, ${shortDayWords(invoice.issuedOn)}` },
    {
      words: shortDayWords(dueOn),
      ...(daysOverdue > 0 && { aside: `${counted(daysOverdue, "day")} overdue` }),
    },
    { words: money(grossMinor), ...(creditedMinor > 0 && { aside: `credited ${money(creditedMinor)}` }) },
    { words: money(settledMinor) },
    { words: money(openMinor) },
  ];
}

const ageNames: Readonly<Record<keyof Standing["byAge"], string>> = {
  "not-due": "Not due yet",
  "to-30": "1 to 30 days overdue",
  "to-60": "31 to 60 days overdue",
  "to-90": "61 to 90 days overdue",
  "over-90": "More than 90 days overdue",
};

function ageSums(
  { byAge, inFavourMinor, balanceMinor }: Standing,
  money: (minor: number) => string,
): PaperSum[] {
  const ages = Object.keys(ageNames) as (keyof Standing["byAge"])[];
  return [
    ...ages
      .filter((age) => byAge[age] > 0)
      .map((age): PaperSum => ({ name: ageNames[age], words: money(byAge[age]) })),
    ...(inFavourMinor > 0 ? [{ name: "In your favour", words: money(-inFavourMinor) }] : []),
    { name: "Still to pay", words: money(balanceMinor), strong: true },
  ];
}
