import type { StoppedPieces } from "../../server/holds/orderStops.ts";
import type { StoppedPackaging } from "../../server/holds/packagingStops.ts";
import type { OrderBoxes } from "../../server/packing/boxQueries.ts";
import { ChoiceField, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { pieces, wholeWords } from "../format/quantities.ts";
import { StoppedInOrder } from "../holds/StoppedInOrder.tsx";
import { type PackingNote, PackingNotes } from "../packing/PackingNotes.tsx";
import { LeavesBy } from "../packing/PackingPage.tsx";
import { SuggestedBoxes } from "../packing/SuggestedBoxes.tsx";
import { waysOut } from "./deliveryWords.ts";
import { type CarrierChoice, ParcelRows } from "./ParcelFields.tsx";

interface OrderToShip {
  readonly orderId: number;
  readonly reference: string;
  readonly customer: string;
  readonly address: string;
  readonly terms: "complete" | "as-ready" | "market";
  readonly state: "draft" | "confirmed" | "packing" | "packed" | "shipped" | "delivered" | "cancelled";
  readonly shipBy: string;
  readonly ordered: number;
  readonly packed: number;
  readonly standing: number;
  readonly stopped: readonly StoppedPieces[];
  readonly stoppedPackaging: readonly StoppedPackaging[];
}

interface ShipPageProps {
  readonly order: OrderToShip;
  readonly notes: readonly PackingNote[];
  readonly boxes: OrderBoxes | null;
  readonly timeZone: string;
  readonly carriers: readonly CarrierChoice[];
  /** What costs are typed in; null for who does not see them. */
  readonly currency: string | null;
  readonly answer: FormAnswer;
  readonly today: string;
}

/** How an order leaves, and the moment it does. */
export function ShipPage({
  order,
  notes,
  boxes,
  carriers,
  currency,
  answer,
  today,
  timeZone,
}: ShipPageProps) {
  const { orderId, reference, customer, address, shipBy } = order;
  return (
    <>
      <p class="trail">
        <a href="/delivery">Delivery</a>
      </p>
      <h1>
        <Unbroken words={answerOf(order)} />
      </h1>
      <p>
        To <strong>{customer}</strong>, leaves by <LeavesBy shipBy={shipBy} today={today} />
      </p>
      {address && <p class="address">{address}</p>}
      <StoppedInOrder stopped={order.stopped} packaging={order.stoppedPackaging} />
      <PackingNotes orderId={orderId} notes={notes} timeZone={timeZone} />
      {boxes && <SuggestedBoxes boxes={boxes} what="What stands packed" />}
      {mayLeave(order) ? (
        <Form action={`/delivery/orders/${orderId}/shipment`} class="narrow">
          <FormMistake answer={answer} />
          <ChoiceField name="how" label="How it leaves" answer={answer} choices={waysOut} />
          <ParcelRows carriers={carriers} currency={currency} answer={answer} />
          <button type="submit">
            <Unbroken words={`${reference} leaves now`} />
          </button>
        </Form>
      ) : (
        <>
          <FormMistake answer={answer} />
          <p>
            <a href={`/packing/${orderId}`}>
              <Unbroken words={reference} /> at the packing table
            </a>
          </p>
        </>
      )}
    </>
  );
}

function mayLeave({ state, terms, standing }: OrderToShip): boolean {
  return standing > 0 && (state === "packed" || (state === "packing" && terms === "as-ready"));
}

function answerOf(order: OrderToShip): string {
  const { reference, state, ordered, packed, standing } = order;
  if (state === "shipped" || state === "delivered") return `${reference} has left already.`;
  if (!mayLeave(order)) return `${reference} cannot leave yet.`;
  if (packed === ordered && standing === ordered) return `All ${pieces(standing)} of ${reference} can leave.`;
  if (packed === ordered) return `The last ${pieces(standing)} of ${reference} can leave.`;
  return state === "packing"
    ? `${pieces(standing)} of ${reference} can leave now; ${wholeWords(ordered - packed)} will follow.`
    : `${reference} leaves with ${pieces(standing)}, ${wholeWords(ordered - packed)} short.`;
}
