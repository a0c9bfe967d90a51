import type { FoundInvoice } from "../../server/papers/queries.ts";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { paperNumber } from "../format/paperNumber.ts";
import { counted } from "../format/quantities.ts";
import { Entries, type Entry } from "./Entries.tsx";
import { invoicePaper } from "./invoicePaper.ts";
import { PaperSheet } from "./PaperSheet.tsx";
import { PaymentForm } from "./PaymentForm.tsx";

interface NamedInvoice {
  readonly id: number;
  readonly kind: "invoice" | "credit-note";
  readonly year: number;
  readonly number: number;
  readonly issuedOn: string;
  readonly currency: string;
  readonly grossMinor: number;
}

export interface InvoicePageProps {
  readonly invoice: FoundInvoice;
  /** The invoice that a credit note takes from. */
  readonly corrects: FoundInvoice | null;
  readonly settling: {
    /** Null for a credit note. */
    readonly balance: {
      readonly creditedMinor: number;
      readonly settledMinor: number;
      readonly openMinor: number;
    } | null;
    readonly entries: readonly Entry[];
    readonly credits: readonly NamedInvoice[];
  };
  readonly daysOverdue: number;
  readonly answer: FormAnswer;
}

/** One invoice or credit note: how it stands, what settled it, and the paper itself (printed, only that remains). */
export function InvoicePage(props: InvoicePageProps) {
  const { invoice, corrects } = props;
  return (
    <>
      <div class="not-printed">
        <p class="trail">
          <a href="/invoices">Invoices</a>
          {" · "}
          <a href={`/orders/${invoice.orderId}`}>{invoice.orderReference}</a>
        </p>
        <h1>
          <Unbroken words={headline(props)} />
        </h1>
        <p class="actions">
          <a class="button quiet" href={`/invoices/${invoice.id}/paper.pdf`} download>
            Save it as PDF
          </a>
          {invoice.kind === "invoice" && (
            <a class="button quiet" href={`/invoices/${invoice.id}/credit`}>
              Write a credit note
            </a>
          )}
          <a class="button quiet" href={`/invoices/statements/${invoice.customerId}`}>
            Statement of {invoice.customerName}
          </a>
        </p>
        {corrects !== null && (
          <p>
            It takes from <a href={`/invoices/${corrects.id}`}>invoice {paperNumber(corrects)}</a>;{" "}
            {invoice.billAgain ? "its pieces are to be billed anew." : "its pieces are not billed again."}
          </p>
        )}
        {invoice.kind === "invoice" && <Settling {...props} />}
        <p class="aside">
          What is written is never changed: a credit note corrects it. Print this page, and only the paper
          comes out.
        </p>
      </div>
      <PaperSheet paper={invoicePaper(invoice, corrects)} />
    </>
  );
}

function headline({ invoice, settling: { balance }, daysOverdue }: InvoicePageProps): string {
  const { currency, dueOn, customerName } = invoice;
  const name = paperNumber(invoice);
  if (balance === null || dueOn === null)
    return `Credit note ${name} gives ${customerName} ${moneyWords(invoice.grossMinor, currency)} back.`;
  if (balance.openMinor === 0) return `Invoice ${name} to ${customerName} is settled.`;
  if (balance.openMinor < 0)
    return `${customerName} paid or was credited ${moneyWords(-balance.openMinor, currency)} more than invoice ${name} asked for.`;
  const open = `${customerName} has ${moneyWords(balance.openMinor, currency)} of invoice ${name} to pay`;
  return daysOverdue > 0
    ? `${open}, ${counted(daysOverdue, "day")} overdue.`
    : `${open} by ${dayWords(dueOn)}.`;
}

function Settling({ invoice, settling, answer }: InvoicePageProps) {
  const { entries, credits } = settling;
  return (
    <>
      <h2>What settled it</h2>
      {entries.length === 0 && credits.length === 0 && <p>Nothing yet.</p>}
      {credits.length > 0 && (
        <ul class="plain-list">
          {credits.map((credit) => (
            <li key={credit.id}>
              <a href={`/invoices/${credit.id}`}>Credit note {paperNumber(credit)}</a> of{" "}
              {shortDayWords(credit.issuedOn)}: {moneyWords(credit.grossMinor, credit.currency)}
            </li>
          ))}
        </ul>
      )}
      <Entries invoiceId={invoice.id} currency={invoice.currency} entries={entries} />
      <PaymentForm invoice={invoice} answer={answer} />
    </>
  );
}
