import { StateMark } from "../components/StateMark.tsx";
import { shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { paperNumber } from "../format/paperNumber.ts";
import { counted, spelled } from "../format/quantities.ts";
import { capitalised } from "../format/sentence.ts";
import { Pager } from "../orders/Pager.tsx";

interface InvoiceRow {
  readonly id: number;
  readonly kind: "invoice" | "credit-note";
  readonly year: number;
  readonly number: number;
  readonly customerId: number;
  readonly customerName: string;
  readonly orderId: number;
  readonly orderReference: string;
  readonly issuedOn: string;
  readonly dueOn: string | null;
  readonly currency: string;
  readonly grossMinor: number;
  readonly openMinor: number | null;
  /** 0 where nothing of it is overdue. */
  readonly daysOverdue: number;
}

type Shown = "open" | "overdue" | "all";

interface InvoicesPageProps {
  readonly summary: {
    readonly all: number;
    readonly open: number;
    readonly openMinor: number;
    readonly overdue: number;
    readonly overdueMinor: number;
  };
  readonly currency: string;
  readonly rows: readonly InvoiceRow[];
  readonly show: Shown;
  readonly q: string;
  readonly earlier: string | null;
  readonly later: string | null;
}

const shownNames: Readonly<Record<Shown, string>> = {
  open: "not settled",
  overdue: "overdue",
  all: "all, with credit notes",
};

/** Who has still to pay what, and since when. */
export function InvoicesPage(props: InvoicesPageProps) {
  const { summary, rows, show, q, earlier, later } = props;
  return (
    <>
      <p class="trail">
        <a href="/orders">Orders</a>
      </p>
      <h1>{headline(props)}</h1>
      {summary.all > 0 && <Filters show={show} q={q} />}
      {rows.length > 0 ? <Rows rows={rows} /> : summary.all > 0 && <p>No invoice is like that.</p>}
      {summary.all === 0 && <p>An invoice is written on the page of its order, once it is confirmed.</p>}
      <Pager total={summary.all} firstShown={1} earlier={earlier} later={later} />
      <p class="actions">
        <a class="button quiet" href="/setup/heading">
          The heading of papers
        </a>
      </p>
    </>
  );
}

function headline({ summary, currency }: InvoicesPageProps): string {
  const { all, open, openMinor, overdue, overdueMinor } = summary;
  if (all === 0) return "Nothing is billed yet.";
  if (open === 0) return "Every invoice is settled.";
  const words = `${capitalised(spelled(open, "invoice"))} with ${moneyWords(openMinor, currency)} ${open === 1 ? "is" : "are"} open`;
  return overdue === 0
    ? `${words}; none is overdue.`
    : `${words}; ${moneyWords(overdueMinor, currency)} ${open === overdue ? "are overdue" : `in ${spelled(overdue, "of them", "of them")} are overdue`}.`;
}

function Filters({ show, q }: { readonly show: Shown; readonly q: string }) {
  return (
    <section class="order-filters" aria-label="Which invoices">
      <ul class="chips push-row">
        {(Object.keys(shownNames) as Shown[]).map((name) => (
          <li key={name}>
            <a href={`/invoices?show=${name}`} aria-current={name === show ? "true" : undefined}>
              {shownNames[name]}
            </a>
          </li>
        ))}
      </ul>
      <form method="get" action="/invoices" class="inline">
        <input type="hidden" name="show" value={show} />
        <label for="invoice-words">Search</label>
        <input
          id="invoice-words"
          name="q"
          type="search"
          maxLength={120}
          value={q}
          placeholder="number, customer, order"
        />
        <button type="submit" class="quiet">
          Show
        </button>
      </form>
    </section>
  );
}

function Rows({ rows }: { readonly rows: readonly InvoiceRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Number</th>
          <th scope="col">Customer</th>
          <th scope="col">Order</th>
          <th scope="col">Written</th>
          <th scope="col">Due</th>
          <th scope="col" class="number">
            Billed
          </th>
          <th scope="col" class="number">
            Open
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.id}>
            <th scope="row">
              <a class="order-link" href={`/invoices/${row.id}`}>
                {paperNumber(row)}
              </a>
            </th>
            <td data-label="Customer">
              <a href={`/invoices/statements/${row.customerId}`}>{row.customerName}</a>
            </td>
            <td data-label="Order">
              <a href={`/orders/${row.orderId}`}>{row.orderReference}</a>
            </td>
            <td data-label="Written">{shortDayWords(row.issuedOn)}</td>
            <td data-label={row.dueOn === null ? undefined : "Due"}>
              {row.dueOn !== null && shortDayWords(row.dueOn)}{" "}
              {row.daysOverdue > 0 && (
                <StateMark words={`${counted(row.daysOverdue, "day")} overdue`} urgent />
              )}
            </td>
            <td data-label={row.kind === "invoice" ? "Billed" : "Credited"} class="number">
              {moneyWords(row.kind === "invoice" ? row.grossMinor : -row.grossMinor, row.currency)}
            </td>
            <td data-label={row.openMinor === null ? undefined : "Open"} class="number">
              {row.openMinor !== null && moneyWords(row.openMinor, row.currency)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
