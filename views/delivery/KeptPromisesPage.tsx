import type { KeptReport, MonthKept } from "../../server/delivery/keptReport.ts";
import type { KeptOrder } from "../../server/delivery/promiseQueries.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { monthWords, shortDayWords } from "../format/dates.ts";
import { wholeWords } from "../format/quantities.ts";
import { rateRule, rateWords } from "./keptWords.ts";

type Report = KeptReport<KeptOrder>;

/** Late orders shown of the months, the newest. */
const MOST_LATE = 100;

/** How many orders left whole and on time, by month and customer, with the numbers behind each rate. */
export function KeptPromisesPage({ report }: { readonly report: Report }) {
  return (
    <>
      <p class="trail">
        <a href="/delivery">Delivery</a>
      </p>
      <h1>{answerOf(report)}</h1>
      <ul class="hint">
        {rateRule.map((rule) => (
          <li key={rule}>{rule}</li>
        ))}
      </ul>
      <Months months={report.months} />
      <Customers customers={report.customers} />
      <LateOrders late={report.late} />
      <p class="actions">
        <a class="button quiet" href="/delivery/promises.csv" download>
          Every order behind this, as CSV
        </a>
      </p>
    </>
  );
}

function answerOf({ months: [newest] }: Report): string {
  if (!newest) return "No month is shown.";
  const { month, kept, of } = newest;
  if (of === 0) return `No order has been due in ${monthWords(month)} yet.`;
  return `${wholeWords(kept)} of ${wholeWords(of)} orders due in ${monthWords(month)} so far left whole and on time.`;
}

function Months({ months }: Pick<Report, "months">) {
  return (
    <>
      <h2>By month</h2>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">Month</th>
            <th scope="col" class="number">
              On time
            </th>
          </tr>
        </thead>
        <tbody>
          {months.map((month) => (
            <tr key={month.month}>
              <th scope="row">{monthWords(month.month)}</th>
              <td data-label="On time" class="number">
                {rateWords(month)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function Customers({ customers }: Pick<Report, "customers">) {
  if (customers.length === 0) return null;
  return (
    <>
      <h2>By customer</h2>
      {customers.map(({ customerId, customer, inAll, months }) => (
        <details class="fold" key={customerId}>
          <summary>
            <span class="fold-name">{customer}</span>
            <span class="fold-holds">{rateWords(inAll)}</span>
          </summary>
          <MonthList months={months} />
        </details>
      ))}
    </>
  );
}

function MonthList({ months }: { readonly months: readonly MonthKept[] }) {
  return (
    <ul class="plain-list">
      {months.map((month) => (
        <li key={month.month}>
          {monthWords(month.month)}: {rateWords(month)}
        </li>
      ))}
    </ul>
  );
}

function LateOrders({ late }: Pick<Report, "late">) {
  if (late.length === 0) return null;
  return (
    <>
      <h2>Late or short</h2>
      <ul class="plain-list">
        {late.slice(0, MOST_LATE).map(({ orderId, reference, customer, shipBy, lines }) => (
          <li key={orderId}>
            <a href={`/orders/${orderId}`}>
              <Unbroken words={reference} />
            </a>{" "}
            for {customer}, promised for {shortDayWords(shipBy)}: {inTimeWords(lines)} left by then
          </li>
        ))}
      </ul>
      {late.length > MOST_LATE && (
        <p class="hint">
          The newest {wholeWords(MOST_LATE)} of {wholeWords(late.length)}.
        </p>
      )}
    </>
  );
}

function inTimeWords(lines: KeptOrder["lines"]): string {
  const promised = lines.reduce((sum, line) => sum + line.promised, 0);
  const inTime = lines.reduce((sum, line) => sum + Math.min(line.promised, line.inTime), 0);
  return `${wholeWords(inTime)} of ${wholeWords(promised)}`;
}
