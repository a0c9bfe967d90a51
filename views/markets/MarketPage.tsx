import { Form } from "../components/Form.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { dayWords, momentWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { pieces } from "../format/quantities.ts";
import { stateWords } from "../orders/stateWords.ts";
import { AdviceForm, type Advised } from "./AdviceForm.tsx";
import { hoursWords, loadingWords, marketHeadline, type ShownMarket, waitsForCount } from "./marketWords.ts";
import { ReportLines, ReportSentence, type ReportShown } from "./ReportLines.tsx";

interface MarketPageProps {
  readonly market: ShownMarket & {
    readonly kind: string;
    readonly place: string;
    readonly opensMinute: number;
    readonly closesMinute: number;
    readonly feeMinor: number;
    readonly loadingMinutes: number;
    readonly note: string;
    readonly orderId: number | null;
    readonly shipBy: string | null;
  };
  readonly currency: string;
  readonly today: string;
  readonly timeZone: string;
  /** Why something just asked for was not done. */
  readonly trouble: string | null;
  /** Whether anything of its crate list has left. */
  readonly left: boolean;
  readonly crate: readonly { readonly productId: number; readonly units: number }[];
  /** Null where the crate list can no longer be written here. */
  readonly advised: Advised | null;
  readonly freeLists: readonly { readonly id: number; readonly reference: string; readonly shipBy: string }[];
  readonly report: ReportShown | null;
  readonly changes: readonly {
    readonly id: number;
    readonly at: Date;
    readonly what: string;
    readonly person: string | null;
  }[];
}

/** One market: what it is like, what to take or what came of it, and what can be done. */
export function MarketPage(props: MarketPageProps) {
  const { market, today, trouble, advised, crate, report } = props;
  return (
    <>
      <p class="trail">
        <a href="/markets">Markets</a>
      </p>
      <h1>{marketHeadline(market, today)}</h1>
      {trouble && (
        <p class="notice" role="alert">
          {trouble}
        </p>
      )}
      <MarketFacts market={market} currency={props.currency} />
      <MarketActions {...props} />
      {report && <Outcome report={report} feeMinor={market.feeMinor} />}
      <FreeLists {...props} />
      {advised && !waitsForCount(market, today) && (
        <AdviceForm marketId={market.id} kind={market.kind} advised={advised} crate={crate} />
      )}
      <CallingOff {...props} />
      <History {...props} />
    </>
  );
}

function MarketFacts({ market, currency }: Pick<MarketPageProps, "market" | "currency">) {
  const { orderId, orderState, reference, shipBy } = market;
  return (
    <dl class="facts">
      <Fact name="Open" words={`${dayWords(market.heldOn, { year: true })}, ${hoursWords(market)}`} />
      {market.place && <Fact name="Place" words={market.place} />}
      {market.kind && <Fact name="Kind" words={market.kind} />}
      <Fact name="Fee" words={market.feeMinor === 0 ? "none" : moneyWords(market.feeMinor, currency)} />
      <Fact name="From loading to opening" words={loadingWords(market.loadingMinutes)} />
      {orderId !== null && orderState !== null && (
        <div>
          <dt>Crate list</dt>
          <dd>
            <a href={`/orders/${orderId}`}>
              <Unbroken words={reference ?? ""} />
            </a>
            , {pieces(market.listUnits)}, {stateWords(orderState)}
            {shipBy && orderState !== "cancelled" && `; packed by ${dayWords(shipBy)}`}
          </dd>
        </div>
      )}
      {market.note && <Fact name="Note" words={market.note} />}
    </dl>
  );
}

function Fact({ name, words }: { readonly name: string; readonly words: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd class="as-typed">{words}</dd>
    </div>
  );
}

function MarketActions({ market, today, left }: MarketPageProps) {
  const { id, orderId, orderState } = market;
  const mayCount = market.heldOn <= today && !market.calledOffAt && (left || waitsForCount(market, today));
  return (
    <div class="actions">
      {(mayCount || market.countedAt) && (
        <a class={market.countedAt ? "button quiet" : "button"} href={`/markets/${id}/count`}>
          {market.countedAt ? "Correct the count" : "Count what came home"}
        </a>
      )}
      {orderState === "draft" && (
        <a class="button" href={`/orders/${orderId}`}>
          Look at the crate list and confirm it
        </a>
      )}
      {(orderState === "confirmed" || orderState === "packing") && (
        <a class="button" href={`/packing/${orderId}`}>
          Pack the crate
        </a>
      )}
      {orderState === "packed" && (
        <a class="button" href={`/delivery/orders/${orderId}`}>
          Let the crate leave
        </a>
      )}
      {orderId !== null && orderState !== "cancelled" && (
        <a class="button quiet" href={`/markets/${id}/crate-list`}>
          Crate list to print
        </a>
      )}
      <a class="button quiet" href={`/markets/${id}/edit`}>
        Change the market
      </a>
    </div>
  );
}

function Outcome({ report, feeMinor }: { readonly report: ReportShown; readonly feeMinor: number }) {
  return (
    <>
      <h2>What it sold</h2>
      <ReportSentence report={report} feeMinor={feeMinor} />
      <ReportLines report={report} />
    </>
  );
}

function FreeLists({ market, freeLists }: MarketPageProps) {
  if (freeLists.length === 0) return null;
  return (
    <>
      <h2>An order that is there already</h2>
      <ul class="plain-list">
        {freeLists.map(({ id, reference, shipBy }) => (
          <li key={id} class="row">
            <a class="market-link" href={`/orders/${id}`}>
              <Unbroken words={reference} />, packed by {dayWords(shipBy)}
            </a>
            <Form action={`/markets/${market.id}/order`}>
              <input type="hidden" name="order" value={id} />
              <button type="submit" class="quiet">
                <Unbroken words={`${reference} is its crate list`} />
              </button>
            </Form>
          </li>
        ))}
      </ul>
    </>
  );
}

/** Asks before it is done, and says what would happen. */
function CallingOff({ market, left }: MarketPageProps) {
  if (market.countedAt || left) return null;
  if (market.calledOffAt)
    return (
      <Form action={`/markets/${market.id}/taking-up`}>
        <button type="submit" class="quiet">
          It takes place after all
        </button>
      </Form>
    );
  return (
    <details class="asks-first">
      <summary>Call the market off …</summary>
      <p>
        Nothing is learned from a market that did not take place.
        {market.orderId !== null &&
          market.orderState !== "cancelled" &&
          ` Its crate list ${market.reference} stays an order until you cancel it there.`}
      </p>
      <Form action={`/markets/${market.id}/calling-off`}>
        <button type="submit">Yes, call it off</button>
      </Form>
    </details>
  );
}

function History({ changes, timeZone }: MarketPageProps) {
  if (changes.length === 0) return null;
  return (
    <>
      <h2>History</h2>
      <ul class="plain-list">
        {changes.map(({ id, at, what, person }) => (
          <li key={id}>
            {momentWords(at, timeZone)}: {what}
            {person && ` by ${person}`}
          </li>
        ))}
      </ul>
    </>
  );
}
