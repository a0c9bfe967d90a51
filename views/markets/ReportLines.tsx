import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { minuteOfDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { counted, pieces, wholeWords } from "../format/quantities.ts";
import { shareOf, soldOutWords } from "./marketWords.ts";

export interface ShownSums {
  readonly takenUnits: number;
  readonly soldUnits: number;
  readonly homeUnits: number;
  readonly givenAwayUnits: number;
  readonly grossMinor: number;
  readonly unpriced: number;
}

export interface ReportShown {
  readonly currency: string;
  readonly products: readonly {
    readonly productId: number;
    readonly product: string;
    readonly look: BlendLook;
    readonly markets: number;
    readonly soldOutMinutes: readonly (number | null)[];
    readonly sums: ShownSums;
  }[];
  readonly sums: ShownSums;
}

/** What was sold came to, and what of it had no price. */
export function ReportSentence({
  report,
  feeMinor,
}: {
  readonly report: ReportShown;
  readonly feeMinor: number;
}) {
  const { currency, sums } = report;
  return (
    <p>
      {sums.unpriced < report.products.length && (
        <>
          At the prices of the day, tax in them, that came to{" "}
          <strong>{moneyWords(sums.grossMinor, currency)}</strong>
          {feeMinor > 0 && `; the stall cost ${moneyWords(feeMinor, currency)}`}.{" "}
        </>
      )}
      {sums.givenAwayUnits > 0 && `${pieces(sums.givenAwayUnits)} were given away. `}
      {sums.unpriced > 0 && `${counted(sums.unpriced, "line")} had no price, so this is not the whole.`}
    </p>
  );
}

/** What each product did, best sold first; on a phone a short list. */
export function ReportLines({ report }: { readonly report: ReportShown }) {
  const { currency, products, sums } = report;
  const one = products.every(({ markets }) => markets === 1);
  return (
    <table class="stack report">
      <thead>
        <tr>
          <th scope="col">Product</th>
          {!one && (
            <th scope="col" class="number">
              Markets
            </th>
          )}
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
            Came home
          </th>
          <th scope="col" class="number">
            Money
          </th>
          <th scope="col">Sold out</th>
        </tr>
      </thead>
      <tbody>
        {products.map(({ productId, product, look, markets, soldOutMinutes, sums: mine }) => (
          <tr key={productId}>
            <th scope="row">
              <Swatch look={look} />
              {product}
            </th>
            {!one && (
              <td class="number" data-label="Markets">
                {wholeWords(markets)}
              </td>
            )}
            <SumCells sums={mine} currency={currency} />
            <td class={soldOutMinutes.length === 0 ? "none" : undefined} data-label="Sold out">
              {one ? onceWords(soldOutMinutes) : soldOutWords(soldOutMinutes)}
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row">In all</th>
          {!one && <td class="none" />}
          <SumCells sums={sums} currency={currency} />
          <td class="none" />
        </tr>
      </tfoot>
    </table>
  );
}

function SumCells({ sums, currency }: { readonly sums: ShownSums; readonly currency: string }) {
  return (
    <>
      <td class="number" data-label="Taken">
        {wholeWords(sums.takenUnits)}
      </td>
      <td class="number" data-label="Sold">
        {wholeWords(sums.soldUnits)}
      </td>
      <td class="number" data-label="Share">
        {shareOf(sums.soldUnits, sums.takenUnits)}
      </td>
      <td class="number" data-label="Came home">
        {wholeWords(sums.homeUnits)}
      </td>
      <td class="number" data-label="Money">
        {sums.grossMinor === 0 && sums.unpriced > 0 ? "no price" : moneyWords(sums.grossMinor, currency)}
      </td>
    </>
  );
}

/** Of one market: the time, or that nobody looked. */
function onceWords([minute]: readonly (number | null)[]): string {
  if (minute === undefined) return "";
  return minute === null ? "yes" : `at ${minuteOfDayWords(minute)}`;
}
