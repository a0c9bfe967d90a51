import type { StoppedShelfLot } from "../../server/holds/queries.ts";
import { StateMark } from "../components/StateMark.tsx";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { momentWords, shortDayWords } from "../format/dates.ts";
import { pieces, spelled, wholeWords } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { StoppedLots } from "../holds/StoppedLots.tsx";
import { stateWords } from "../orders/stateWords.ts";
import { leavesWords, pressingWords } from "./promiseWords.ts";

interface Pieces {
  readonly product: string;
  readonly look: BlendLook;
  readonly units: number;
}

interface OrderToPack {
  readonly orderId: number;
  readonly reference: string;
  readonly customer: string;
  readonly state: "draft" | "confirmed" | "packing" | "packed" | "shipped" | "delivered" | "cancelled";
  readonly shipBy: string;
  readonly ordered: number;
  readonly packed: number;
  readonly left: number;
  readonly free: number;
  readonly waiting: readonly (Pieces & { readonly lotCode: string; readonly readyDueAt: Date })[];
  readonly missing: readonly Pieces[];
}

interface PackedOrder {
  readonly orderId: number;
  readonly reference: string;
  readonly customer: string;
  readonly shipBy: string;
}

/** What the accepted plan says of an order. */
interface PlannedOutcome {
  readonly reference: string;
  /** ISO 8601 date of its last piece; null when some piece is never made. */
  readonly readyOn: string | null;
  readonly unitsShort: number;
}

interface PackingPageProps {
  readonly orders: readonly OrderToPack[];
  readonly packed: readonly PackedOrder[];
  readonly stopped: readonly StoppedShelfLot[];
  /** Null while no plan is accepted. */
  readonly outcomes: readonly PlannedOutcome[] | null;
  /** ISO 8601 date of the workshop. */
  readonly today: string;
  readonly timeZone: string;
}

/** Which order to pack next, and what the others wait for. */
export function PackingPage({ orders, packed, stopped, outcomes, today, timeZone }: PackingPageProps) {
  return (
    <>
      <h1>
        <Unbroken words={answerOf(orders, today)} />
      </h1>
      <p class="actions">
        {orders.length > 0 && (
          <a class="button" href="/packing/gathered">
            Gather for several at once
          </a>
        )}
        <a class="button quiet" href="/labels">
          Labels
        </a>
      </p>
      {orders.length === 0 && packed.length === 0 && <p>Confirmed orders come here to be packed.</p>}
      {orders.length > 0 && (
        <>
          <p class="aside">
            First promised, first served: pieces an earlier order counts on are not free for a later one.
          </p>
          <table class="stack">
            <thead>
              <tr>
                <th scope="col">Order</th>
                <th scope="col">Leaves by</th>
                <th scope="col" class="number">
                  Packed
                </th>
                <th scope="col">On the shelf now</th>
                <th scope="col">Waits for</th>
              </tr>
            </thead>
            <tbody>
              {orders.map((order) => (
                <OrderRow
                  key={order.orderId}
                  order={order}
                  planned={plannedWords(order, outcomes)}
                  today={today}
                  timeZone={timeZone}
                />
              ))}
            </tbody>
          </table>
        </>
      )}
      <StoppedLots lots={stopped} timeZone={timeZone} />
      {packed.length > 0 && <PackedOrders packed={packed} today={today} />}
    </>
  );
}

function answerOf(orders: readonly OrderToPack[], today: string): string {
  const [first] = orders;
  if (!first) return "Nothing waits to be packed.";
  const whole = orders.filter((order) => order.free === order.left).length;
  const can =
    whole === 0 ? "No order can be packed whole now" : `${spelled(whole, "order")} can be packed whole now`;
  const pressing = orders.filter((order) =>
    first.shipBy < today ? order.shipBy < today : order.shipBy === first.shipBy,
  );
  const names = pressing.map((order) => order.reference);
  const sameDay = pressing.every((order) => order.shipBy === first.shipBy);
  const next = sameDay
    ? leavesWords(names, first.shipBy, today)
    : `${spelled(pressing.length, "order")} should have left already, ${first.reference} first`;
  return sentence(`${can}; ${next}`);
}

/** By when the plan has the pieces that are not made yet; nothing where all are made. */
function plannedWords(
  { reference, missing }: OrderToPack,
  outcomes: readonly PlannedOutcome[] | null,
): string | null {
  if (missing.length === 0 || outcomes === null) return null;
  const outcome = outcomes.find((each) => each.reference === reference);
  if (!outcome) return "The plan does not know this order yet.";
  if (outcome.readyOn !== null) return `By the plan all of it is ready ${shortDayWords(outcome.readyOn)}.`;
  return `The plan leaves ${pieces(outcome.unitsShort)} of it unmade.`;
}

function OrderRow({
  order,
  planned,
  today,
  timeZone,
}: {
  readonly order: OrderToPack;
  readonly planned: string | null;
  readonly today: string;
  readonly timeZone: string;
}) {
  return (
    <tr>
      <th scope="row">
        <a class="order-link" href={`/packing/${order.orderId}`}>
          {order.reference}
        </a>
        <span class="under">{order.customer}</span>
      </th>
      <td data-label="Leaves by">
        <LeavesBy shipBy={order.shipBy} today={today} />
      </td>
      <td data-label="Packed" class="number">
        {wholeWords(order.packed)} of {wholeWords(order.ordered)}
        <span class="under">{stateWords(order.state)}</span>
      </td>
      <td data-label="On the shelf now">
        <FreeNow order={order} />
      </td>
      <td data-label="Waits for">
        <WaitsFor order={order} timeZone={timeZone} />
        {planned && <span class="under">{planned}</span>}
      </td>
    </tr>
  );
}

/** The promised day, and how it presses. */
export function LeavesBy({ shipBy, today }: { readonly shipBy: string; readonly today: string }) {
  const pressing = pressingWords(shipBy, today);
  return (
    <>
      <span class="nowrap">{shortDayWords(shipBy)}</span>
      {pressing && (
        <>
          {" "}
          <StateMark words={pressing} urgent={shipBy <= today} />
        </>
      )}
    </>
  );
}

function FreeNow({ order: { left, free } }: { readonly order: OrderToPack }) {
  if (left === 0) return <strong>All packed: mark it</strong>;
  if (free === left) return <strong>All {pieces(left)}</strong>;
  return <>{free === 0 ? "Nothing yet" : `${wholeWords(free)} of ${wholeWords(left)}`}</>;
}

function WaitsFor({ order, timeZone }: { readonly order: OrderToPack; readonly timeZone: string }) {
  if (order.waiting.length + order.missing.length === 0) return <>nothing</>;
  return (
    <ul class="waits">
      {order.waiting.map(({ product, look, units, lotCode, readyDueAt }) => (
        <li key={`${product} ${lotCode}`}>
          <Swatch look={look} />
          {wholeWords(units)} {product}, ready {momentWords(readyDueAt, timeZone)} (lot {lotCode})
        </li>
      ))}
      {order.missing.map(({ product, look, units }) => (
        <li key={product}>
          <Swatch look={look} />
          {wholeWords(units)} {product}, not made yet
        </li>
      ))}
    </ul>
  );
}

function PackedOrders({
  packed,
  today,
}: {
  readonly packed: readonly PackedOrder[];
  readonly today: string;
}) {
  return (
    <>
      <h2>Packed, waiting to leave</h2>
      <ul class="plain-list">
        {packed.map((order) => (
          <li key={order.orderId} class="row">
            <span>
              <a class="order-link" href={`/packing/${order.orderId}`}>
                {order.reference}
              </a>{" "}
              {order.customer}
            </span>
            <span>
              <LeavesBy shipBy={order.shipBy} today={today} />
            </span>
          </li>
        ))}
      </ul>
      <p>
        <a href="/delivery">Send them off</a>
      </p>
    </>
  );
}
