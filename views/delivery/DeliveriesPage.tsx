import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { momentWords, shortDayWords } from "../format/dates.ts";
import { pieces, spelled, wholeWords } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { LeavesBy } from "../packing/PackingPage.tsx";
import { leavesWords } from "../packing/promiseWords.ts";
import { type WayOut, wayWords } from "./deliveryWords.ts";
import { LeftOn } from "./LeftOn.tsx";
import type { NamedParcel } from "./parcelWords.ts";

interface OrderWaiting {
  readonly orderId: number;
  readonly reference: string;
  readonly customer: string;
  readonly terms: string;
  readonly state: string;
  readonly shipBy: string;
  readonly ordered: number;
  readonly standing: number;
}

interface DeliveryRow {
  readonly deliveryId: number;
  readonly reference: string;
  readonly customer: string;
  readonly shipBy: string;
  readonly how: WayOut;
  readonly parcels: readonly NamedParcel[];
  readonly shippedAt: Date;
  readonly deliveredAt: Date | null;
  readonly units: number;
}

interface DeliveriesPageProps {
  readonly waiting: readonly OrderWaiting[];
  /** The longest away first; as many as one page shows, and how many there are. */
  readonly underWay: { readonly rows: readonly DeliveryRow[]; readonly total: number };
  readonly arrived: readonly DeliveryRow[];
  readonly answer: FormAnswer;
  readonly today: string;
  readonly timeZone: string;
}

/** What leaves, what is under way, and what arrived lately. */
export function DeliveriesPage({ waiting, underWay, arrived, answer, today, timeZone }: DeliveriesPageProps) {
  return (
    <>
      <h1>
        <Unbroken words={answerOf(waiting, underWay.total, today)} />
      </h1>
      <FormMistake answer={answer} />
      <Ways />
      {waiting.length > 0 ? (
        <Waiting waiting={waiting} today={today} />
      ) : (
        <p>
          What is packed at the <a href="/packing">packing table</a> comes here to leave.
        </p>
      )}
      {underWay.total > 0 && (
        <>
          <h2>Under way</h2>
          <DeliveryList rows={underWay.rows} timeZone={timeZone} />
          {underWay.rows.length < underWay.total && (
            <p class="hint">
              These are the {wholeWords(underWay.rows.length)} longest away. Tick off what has arrived to see
              the rest.
            </p>
          )}
        </>
      )}
      {arrived.length > 0 && (
        <>
          <h2>Arrived in the last two weeks</h2>
          <DeliveryList rows={arrived} timeZone={timeZone} />
        </>
      )}
    </>
  );
}

/** Where else Delivery leads. */
function Ways() {
  const { person } = usePageContext();
  return (
    <p class="actions">
      <a class="button quiet" href="/delivery/round">
        Local round
      </a>
      {person?.role === "owner" && (
        <a class="button quiet" href="/delivery/promises">
          Kept promises
        </a>
      )}
    </p>
  );
}

function answerOf(waiting: readonly OrderWaiting[], underWay: number, today: string): string {
  const [first] = waiting;
  const away =
    underWay === 0
      ? "nothing is under way"
      : `${spelled(underWay, "delivery", "deliveries")} ${underWay === 1 ? "is" : "are"} under way`;
  if (!first) return sentence(`nothing stands packed; ${away}`);
  const sameDay = waiting.filter((order) => order.shipBy === first.shipBy);
  const next = leavesWords(
    sameDay.map((order) => order.reference),
    first.shipBy,
    today,
  );
  return `${sentence(next)} ${sentence(away)}`;
}

function Waiting({ waiting, today }: { readonly waiting: readonly OrderWaiting[]; readonly today: string }) {
  return (
    <>
      <h2>Packed, to leave</h2>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">Order</th>
            <th scope="col">Leaves by</th>
            <th scope="col">In the box</th>
            <th scope="col">To do</th>
          </tr>
        </thead>
        <tbody>
          {waiting.map((order) => (
            <tr key={order.orderId}>
              <th scope="row">
                <Unbroken words={order.reference} />
                <span class="under">{order.customer}</span>
              </th>
              <td data-label="Leaves by">
                <LeavesBy shipBy={order.shipBy} today={today} />
              </td>
              <td data-label="In the box">{boxWords(order)}</td>
              <td>
                <a class="button" href={`/delivery/orders/${order.orderId}`}>
                  <Unbroken words={`Send off ${order.reference}`} />
                </a>
                {order.terms === "market" && (
                  <a class="button quiet" href={`/delivery/crates/${order.orderId}`}>
                    <Unbroken words={`Load ${order.reference}`} />
                  </a>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function boxWords({ state, standing, ordered }: OrderWaiting): string {
  if (state === "packing") return `${pieces(standing)}, more to come`;
  return standing < ordered ? `${wholeWords(standing)} of ${pieces(ordered)}` : pieces(standing);
}

function DeliveryList({
  rows,
  timeZone,
}: {
  readonly rows: readonly DeliveryRow[];
  readonly timeZone: string;
}) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Order</th>
          <th scope="col">How it left</th>
          <th scope="col" class="number">
            Pieces
          </th>
          <th scope="col">Promised for</th>
          <th scope="col">Left</th>
          <th scope="col">Arrived</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.deliveryId}>
            <th scope="row">
              <a
                class="order-link"
                href={`/delivery/${row.deliveryId}`}
                // Takes the focus over from the button that ticked it off.
                id={row.deliveredAt ? `arrival-${row.deliveryId}` : undefined}
              >
                {row.reference}
              </a>
              <span class="under">{row.customer}</span>
            </th>
            <td data-label="How it left">{wayWords(row)}</td>
            <td data-label="Pieces" class="number">
              {wholeWords(row.units)}
            </td>
            <td data-label="Promised for">{shortDayWords(row.shipBy)}</td>
            <td data-label="Left">
              <LeftOn shipBy={row.shipBy} shippedAt={row.shippedAt} timeZone={timeZone} />
            </td>
            <td data-label="Arrived">
              {row.deliveredAt ? momentWords(row.deliveredAt, timeZone) : <TickOff row={row} />}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function TickOff({ row: { deliveryId, reference } }: { readonly row: DeliveryRow }) {
  const address = `/delivery/${deliveryId}/arrival`;
  return (
    <Form action={address} hx-post={address} hx-target="#main" class="inline">
      <button
        type="submit"
        id={`arrival-${deliveryId}`}
        class="quiet"
        aria-label={`${reference} has arrived`}
      >
        Has arrived
      </button>
    </Form>
  );
}
