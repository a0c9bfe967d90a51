import type { HabitRule } from "../../server/markets/habitRule.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { wholeWords } from "../format/quantities.ts";
import {
  farWords,
  habitWords,
  marketsHeadline,
  type ShownMarket,
  shareOf,
  soldOf,
  standingWords,
  waitsForCount,
} from "./marketWords.ts";

interface MarketsPageProps {
  readonly today: string;
  readonly open: readonly ShownMarket[];
  /** Dates on which a market comes again and nothing is written down yet. */
  readonly ahead: readonly {
    readonly customerId: number;
    readonly customer: string;
    readonly heldOn: string;
  }[];
  readonly past: readonly ShownMarket[];
  readonly stalls: readonly {
    readonly customerId: number;
    readonly customer: string;
    /** When it comes again; null: it comes as it comes. */
    readonly comes: HabitRule | null;
  }[];
}

/** The markets: which is next, how its crate stands, what came of the past ones. */
export function MarketsPage({ today, open, ahead, past, stalls }: MarketsPageProps) {
  return (
    <>
      <p class="trail">
        <a href="/orders">Orders</a>
      </p>
      <h1>{marketsHeadline(open, today)}</h1>
      <p class="actions">
        <a class="button" href="/markets/new">
          Plan a market
        </a>
        {past.length > 0 && (
          <a class="button quiet" href="/markets/report">
            What markets sold
          </a>
        )}
      </p>
      <OpenMarkets open={open} today={today} />
      <DatesAhead ahead={ahead} today={today} />
      <Stalls stalls={stalls} />
      <PastMarkets past={past} />
    </>
  );
}

function OpenMarkets({ open, today }: { readonly open: readonly ShownMarket[]; readonly today: string }) {
  if (open.length === 0) return null;
  return (
    <ul class="plain-list market-list">
      {open.map((market) => (
        <li key={market.id} class="row">
          <div>
            <a class="market-link" href={`/markets/${market.id}`}>
              {market.customer}
            </a>
            <span class="under">
              {dayWords(market.heldOn)}, {farWords(today, market.heldOn)};{" "}
              <Unbroken words={standingWords(market, today)} />
            </span>
          </div>
          {waitsForCount(market, today) && (
            <a class="button" href={`/markets/${market.id}/count`}>
              Count what came home
            </a>
          )}
        </li>
      ))}
    </ul>
  );
}

function DatesAhead({ ahead, today }: Pick<MarketsPageProps, "ahead" | "today">) {
  if (ahead.length === 0) return null;
  return (
    <>
      <h2>Coming again</h2>
      <ul class="plain-list market-list">
        {ahead.map(({ customerId, customer, heldOn }) => (
          <li key={`${customerId} ${heldOn}`} class="row">
            <div>
              {customer}
              <span class="under">
                {dayWords(heldOn)}, {farWords(today, heldOn)}
              </span>
            </div>
            <a
              class="button quiet"
              href={`/markets/new?customer=${customerId}&date=${heldOn}`}
              aria-label={`Plan it: ${customer} on ${dayWords(heldOn)}`}
            >
              Plan it
            </a>
          </li>
        ))}
      </ul>
    </>
  );
}

function Stalls({ stalls }: Pick<MarketsPageProps, "stalls">) {
  if (stalls.length === 0)
    return (
      <p>
        A market is a customer of its own kind: <a href="/setup/customers/new">add one to the customers</a>,
        and it can be planned here.
      </p>
    );
  return (
    <>
      <h2>How they usually are</h2>
      <ul class="plain-list">
        {stalls.map(({ customerId, customer, comes }) => (
          <li key={customerId} class="row">
            <a class="market-link" href={`/markets/habits/${customerId}`}>
              {customer}
            </a>
            {comes && <span class="aside">{habitWords(comes)}</span>}
          </li>
        ))}
      </ul>
    </>
  );
}

function PastMarkets({ past }: Pick<MarketsPageProps, "past">) {
  if (past.length === 0) return null;
  return (
    <>
      <h2>Past markets</h2>
      <table class="stack">
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
              Sold out
            </th>
          </tr>
        </thead>
        <tbody>
          {past.map((market) => (
            <tr key={market.id}>
              <th scope="row">
                <a class="market-link" href={`/markets/${market.id}`}>
                  {market.customer}
                </a>
              </th>
              <td class="nowrap" data-label="Date">
                {shortDayWords(market.heldOn)}
                {market.calledOffAt && ", called off"}
              </td>
              <PastCounts market={market} />
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function PastCounts({ market }: { readonly market: ShownMarket }) {
  const called = market.calledOffAt !== null;
  const words = (count: number) => (called ? "" : wholeWords(count));
  return (
    <>
      <td class={called ? "number none" : "number"} data-label="Taken">
        {words(market.takenUnits)}
      </td>
      <td class={called ? "number none" : "number"} data-label="Sold">
        {words(soldOf(market))}
      </td>
      <td class={called ? "number none" : "number"} data-label="Share">
        {called ? "" : shareOf(soldOf(market), market.takenUnits)}
      </td>
      <td class={called ? "number none" : "number"} data-label="Sold out">
        {words(market.soldOutProducts)}
      </td>
    </>
  );
}
