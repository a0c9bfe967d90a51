import { shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { pieces, spelled, wholeWords } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { shareOf } from "./marketWords.ts";
import { ReportLines, ReportSentence, type ReportShown, type ShownSums } from "./ReportLines.tsx";

interface ReportPageProps {
  readonly report: ReportShown & {
    readonly markets: readonly {
      readonly marketId: number;
      readonly customer: string;
      readonly heldOn: string;
      readonly feeMinor: number;
      readonly sums: ShownSums;
    }[];
  };
  readonly kinds: readonly string[];
  /** "" is all. */
  readonly kind: string;
}

/** What markets sold, market by market and product by product. */
export function ReportPage({ report, kinds, kind }: ReportPageProps) {
  const query = kind === "" ? "" : `?kind=${encodeURIComponent(kind)}`;
  const fees = report.markets.reduce((sum, { feeMinor }) => sum + feeMinor, 0);
  return (
    <>
      <p class="trail">
        <a href="/markets">Markets</a>
      </p>
      <h1>{headline(report)}</h1>
      {kinds.length > 0 && <KindFilter kinds={kinds} kind={kind} />}
      {report.markets.length > 0 && (
        <>
          <ReportSentence report={report} feeMinor={fees} />
          <p class="actions">
            <a class="button quiet" href={`/markets/report.csv${query}`}>
              All of it as a file (CSV)
            </a>
          </p>
          <h2>By product</h2>
          <ReportLines report={report} />
          <h2>By market</h2>
          <ByMarket report={report} />
        </>
      )}
    </>
  );
}

function headline({ markets, sums }: ReportPageProps["report"]): string {
  if (markets.length === 0) return "No market of this kind has been counted yet.";
  return sentence(
    `${spelled(markets.length, "market")} sold ${wholeWords(sums.soldUnits)} of ${pieces(sums.takenUnits)}, ${shareOf(sums.soldUnits, sums.takenUnits)}`,
  );
}

function KindFilter({ kinds, kind }: Pick<ReportPageProps, "kinds" | "kind">) {
  const all = [{ name: "All markets", value: "" }, ...kinds.map((one) => ({ name: one, value: one }))];
  return (
    <nav aria-label="Kind of market" class="chips-row">
      <ul class="chips push-row">
        {all.map(({ name, value }) => (
          <li key={value}>
            <a
              href={value === "" ? "/markets/report" : `/markets/report?kind=${encodeURIComponent(value)}`}
              aria-current={value === kind ? "page" : undefined}
            >
              {name}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

function ByMarket({ report: { markets, currency } }: Pick<ReportPageProps, "report">) {
  return (
    <table class="stack report">
      <thead>
        <tr>
          <th scope="col">Market</th>
          <th scope="col">Date</th>
          <th scope="col" class="number">
            Taken
          </th>
          <th scope="col" class="number">
            Sold
          </th>
          <th scope="col" class="number">
            Share
          </th>
          <th scope="col" class="number">
            Money
          </th>
          <th scope="col" class="number">
            Fee
          </th>
        </tr>
      </thead>
      <tbody>
        {markets.map(({ marketId, customer, heldOn, feeMinor, sums }) => (
          <tr key={marketId}>
            <th scope="row">
              <a class="market-link" href={`/markets/${marketId}`}>
                {customer}
              </a>
            </th>
            <td class="nowrap" data-label="Date">
              {shortDayWords(heldOn)}
            </td>
            <td class="number" data-label="Taken">
              {wholeWords(sums.takenUnits)}
            </td>
            <td class="number" data-label="Sold">
              {wholeWords(sums.soldUnits)}
            </td>
            <td class="number" data-label="Share">
              {shareOf(sums.soldUnits, sums.takenUnits)}
            </td>
            <td class="number" data-label="Money">
              {sums.grossMinor === 0 && sums.unpriced > 0
                ? "no price"
                : moneyWords(sums.grossMinor, currency)}
            </td>
            <td class={feeMinor === 0 ? "number none" : "number"} data-label="Fee">
              {feeMinor === 0 ? "·" : moneyWords(feeMinor, currency)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
