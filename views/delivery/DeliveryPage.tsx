import type { KeptPromise } from "../../server/delivery/promiseQueries.ts";
import type { StoppedPieces } from "../../server/holds/orderStops.ts";
import { Form } from "../components/Form.tsx";
import type { BlendLook } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { dateOf, dayWords, momentWords, shortDayWords } from "../format/dates.ts";
import { StoppedInOrder } from "../holds/StoppedInOrder.tsx";
import { PaperSheet } from "../papers/PaperSheet.tsx";
import type { PaperShop } from "../papers/paper.ts";
import { slipPaper } from "../papers/slipPaper.ts";
import { type WayOut, wayWords } from "./deliveryWords.ts";
import { KeptPromisePart } from "./KeptPromisePart.tsx";
import { LeftOn } from "./LeftOn.tsx";
import type { ShownParcel } from "./ParcelFields.tsx";
import { ParcelList } from "./ParcelList.tsx";

interface SlipLine {
  readonly lineId: number;
  readonly product: string;
  readonly look: BlendLook;
  readonly ordered: number;
  /** With this delivery and those before it. */
  readonly sentSoFar: number;
  readonly lots: readonly { readonly lotCode: string; readonly units: number }[];
}

/** A delivery with all that its packing slip says. */
export interface DeliveryOnPaper {
  readonly deliveryId: number;
  readonly orderId: number;
  readonly reference: string;
  readonly customer: string;
  readonly address: string;
  readonly terms: "complete" | "as-ready" | "market";
  readonly shipBy: string;
  readonly part: number;
  readonly how: WayOut;
  readonly parcels: readonly ShownParcel[];
  readonly inOunces: boolean;
  readonly shippedAt: Date;
  readonly deliveredAt: Date | null;
  readonly units: number;
  readonly lines: readonly SlipLine[];
  /** Pieces of its order that are on hold or recalled. */
  readonly stopped: readonly StoppedPieces[];
}

interface DeliveryPageProps {
  readonly delivery: DeliveryOnPaper;
  /** What each parcel cost, where whoever looks may see it. */
  readonly costs: { readonly currency: string; readonly minor: ReadonlyMap<number, number> } | null;
  /** What the order was promised for; null where that is not known. */
  readonly kept: KeptPromise | null;
  readonly shop: PaperShop;
  readonly timeZone: string;
}

/** One delivery: how its promise was kept, and the packing slip that goes with it (printed, only the slip remains). */
export function DeliveryPage({ delivery, costs, kept, shop, timeZone }: DeliveryPageProps) {
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
        <StoppedInOrder stopped={delivery.stopped} packaging={[]} />
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
        <ParcelList
          deliveryId={deliveryId}
          parcels={delivery.parcels}
          costs={costs}
          inOunces={delivery.inOunces}
        />
        {kept && <KeptPromisePart kept={kept} />}
        {delivery.terms === "market" && (
          <p>
            <a href={`/delivery/crates/${delivery.orderId}`}>What was loaded</a>
            {" · "}
            <a href={`/markets/of-order/${delivery.orderId}`}>What comes home from its market</a>
          </p>
        )}
        <p class="actions">
          <a class="button quiet" href={`/delivery/${deliveryId}/slip.pdf`} download>
            Save the slip as PDF
          </a>
        </p>
        <p class="aside">Print this page: only the slip comes out.</p>
      </div>
      <PaperSheet paper={slipPaper(delivery, { shop, timeZone })} />
    </>
  );
}
