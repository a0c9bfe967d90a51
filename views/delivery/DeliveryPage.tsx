import { Form } from "../components/Form.tsx";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { dateOf, dayWords, momentWords, shortDayWords } from "../format/dates.ts";
import { pieces, wholeWords } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { type WayOut, wayWords } from "./deliveryWords.ts";
import { LeftOn } from "./LeftOn.tsx";

interface SlipLine {
  readonly lineId: number;
  readonly product: string;
  readonly look: BlendLook;
  readonly ordered: number;
  /** With this delivery and those before it. */
  readonly sentSoFar: number;
  readonly lots: readonly { readonly lotCode: string; readonly units: number }[];
}

interface Delivery {
  readonly deliveryId: number;
  readonly orderId: number;
  readonly reference: string;
  readonly customer: string;
  readonly address: string;
  readonly terms: "complete" | "as-ready" | "market";
  readonly shipBy: string;
  readonly part: number;
  readonly how: WayOut;
  readonly carrier: string;
  readonly tracking: string;
  readonly shippedAt: Date;
  readonly deliveredAt: Date | null;
  readonly units: number;
  readonly lines: readonly SlipLine[];
}

interface DeliveryPageProps {
  readonly delivery: Delivery;
  readonly timeZone: string;
}

/** One delivery: how its promise was kept, and the packing slip that goes with it (printed, only the slip remains). */
export function DeliveryPage({ delivery, timeZone }: DeliveryPageProps) {
  const { deliveryId, reference, deliveredAt, shippedAt, shipBy } = delivery;
  return (
    <>
      <div class="not-printed">
        <p class="trail">
          <a href="/delivery">Delivery</a>
        </p>
        <h1>
          <Unbroken
            words={
              deliveredAt
                ? `${reference} arrived on ${dayWords(dateOf(deliveredAt, timeZone))}.`
                : `${reference} left on ${dayWords(dateOf(shippedAt, timeZone))} and is under way.`
            }
          />
        </h1>
        <p>
          Promised for {shortDayWords(shipBy)}, left{" "}
          <LeftOn shipBy={shipBy} shippedAt={shippedAt} timeZone={timeZone} />
        </p>
        <p>
          {wayWords(delivery)}; left {momentWords(shippedAt, timeZone)}
          {deliveredAt && `, arrived ${momentWords(deliveredAt, timeZone)}`}.
        </p>
        {!deliveredAt && (
          <Form action={`/delivery/${deliveryId}/arrival`} class="actions">
            <button type="submit">Has arrived</button>
          </Form>
        )}
        {delivery.terms === "market" && (
          <p>
            <a href={`/markets/of-order/${delivery.orderId}`}>What comes home from its market</a>
          </p>
        )}
        <p class="aside">Print this page: only the slip comes out.</p>
      </div>
      <PackingSlip delivery={delivery} timeZone={timeZone} />
    </>
  );
}

function PackingSlip({ delivery, timeZone }: DeliveryPageProps) {
  const { workshop } = usePageContext();
  return (
    <article class="slip">
      <header class="slip-head">
        <div>
          <p class="slip-shop">{workshop?.name}</p>
          <p>Packing slip</p>
        </div>
        <dl class="slip-facts">
          <dt>Order</dt>
          <dd>{delivery.reference}</dd>
          <dt>Left us</dt>
          <dd>{dayWords(dateOf(delivery.shippedAt, timeZone), { year: true })}</dd>
          <dt>Sent</dt>
          <dd>{wayWords(delivery)}</dd>
          {delivery.part > 1 && (
            <>
              <dt>Delivery</dt>
              <dd>no. {delivery.part} of this order</dd>
            </>
          )}
        </dl>
      </header>
      <div class="slip-to">
        <p class="slip-label">To</p>
        <p>
          <strong>{delivery.customer}</strong>
        </p>
        <p class="address">{delivery.address}</p>
      </div>
      <SlipLines lines={delivery.lines} units={delivery.units} />
      <p class="slip-rest">{restWords(delivery)}</p>
      <footer class="slip-foot">
        <p class="signature">Packed by</p>
        <p class="signature">Counted and received</p>
      </footer>
      <p class="slip-care">
        Keep the pieces dry until they are used, and please name the lot with any question.
      </p>
    </article>
  );
}

function SlipLines({ lines, units }: { readonly lines: readonly SlipLine[]; readonly units: number }) {
  return (
    <table class="stack slip-lines">
      <thead>
        <tr>
          <th scope="col">Product</th>
          <th scope="col">Lots</th>
          <th scope="col" class="number">
            Ordered
          </th>
          <th scope="col" class="number">
            In this delivery
          </th>
        </tr>
      </thead>
      <tbody>
        {lines
          .filter((line) => line.lots.length > 0)
          .map((line) => (
            <tr key={line.lineId}>
              <th scope="row">
                <Swatch look={line.look} />
                {line.product}
              </th>
              <td data-label="Lots">
                {line.lots.map(({ lotCode, units: ofLot }, place) => (
                  <span key={lotCode}>
                    {place > 0 && ", "}
                    {line.lots.length > 1 && `${wholeWords(ofLot)} of `}
                    <span class="lot">{lotCode}</span>
                  </span>
                ))}
              </td>
              <td data-label="Ordered" class="number">
                {wholeWords(line.ordered)}
              </td>
              <td data-label="In this delivery" class="number">
                {wholeWords(line.lots.reduce((sum, lot) => sum + lot.units, 0))}
              </td>
            </tr>
          ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colSpan={3}>
            Pieces in this delivery
          </th>
          <td class="number">{wholeWords(units)}</td>
        </tr>
      </tfoot>
    </table>
  );
}

/** What the customer still waits for, or will not get. */
function restWords({ terms, lines }: Delivery): string {
  const short = lines.filter((line) => line.sentSoFar < line.ordered);
  if (short.length === 0) return "With this delivery the order is complete.";
  const list = short.map((line) => `${wholeWords(line.ordered - line.sentSoFar)} ${line.product}`).join(", ");
  const total = pieces(short.reduce((sum, line) => sum + line.ordered - line.sentSoFar, 0));
  return terms === "as-ready" ? `Still to come, ${total}: ${list}.` : `Left without ${total}: ${list}.`;
}
