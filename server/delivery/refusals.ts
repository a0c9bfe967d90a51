import { stoppedPackagingWords, stoppedWords } from "../../views/holds/stopWords.ts";
import type { StoppedPackaging } from "../holds/packagingStops.ts";
import type { StoppedLot } from "../holds/stops.ts";
import type { OrderState } from "../orders/order.ts";

/** Why something could not leave, or not be ticked off. */
export type DeliveryRefusal =
  | { readonly why: "no-such-order" | "no-such-delivery" | "no-such-parcel" | "no-such-crate" }
  | { readonly why: "carrier-gone" | "currency-changed" }
  | { readonly why: "leaves-whole" | "mark-first" | "box-empty"; readonly reference: string }
  | ({ readonly why: "lot-stopped"; readonly reference: string } & StoppedLot)
  | { readonly why: "packaging-recalled"; readonly reference: string; readonly packaging: StoppedPackaging }
  | { readonly why: "cannot-leave"; readonly reference: string; readonly state: OrderState }
  | { readonly why: "arrived-already" | "not-arrived" | "crate-changed"; readonly reference: string };

/** The refusal in one sentence. */
export function deliveryRefusalWords(refusal: DeliveryRefusal): string {
  switch (refusal.why) {
    case "no-such-order":
      return "There is no such order.";
    case "no-such-delivery":
      return "There is no such delivery.";
    case "no-such-parcel":
      return "There is no such parcel.";
    case "no-such-crate":
      return "There is no such crate.";
    case "crate-changed":
      return `What is packed for ${refusal.reference} was changed meanwhile: look at the crate as it is now.`;
    case "carrier-gone":
      return "That carrier or service is not in use any more: choose from the list as it is now.";
    case "currency-changed":
      return "The workshop's currency was changed meanwhile: look at what it cost and send it again.";
    case "leaves-whole":
      return `${refusal.reference} leaves in one delivery only: pack every line and mark it as packed first.`;
    case "mark-first":
      return `${refusal.reference} is for a market: mark it as packed first, short if need be.`;
    case "box-empty":
      return `Nothing packed for ${refusal.reference} is left to ship.`;
    case "lot-stopped":
      return `${stoppedWords(refusal.code, refusal.stop)} Take its pieces out of the box for ${refusal.reference} before the box leaves.`;
    case "packaging-recalled":
      return `${stoppedPackagingWords(refusal.packaging)} Take these pieces out of the box for ${refusal.reference}, and pack them anew, before the box leaves.`;
    case "cannot-leave":
      return cannotLeaveWords(refusal.reference, refusal.state);
    case "arrived-already":
      return `This delivery of ${refusal.reference} is marked as delivered already.`;
    case "not-arrived":
      return `This delivery of ${refusal.reference} is not marked as delivered.`;
  }
}

function cannotLeaveWords(reference: string, state: OrderState): string {
  switch (state) {
    case "draft":
    case "confirmed":
      return `Nothing is packed for ${reference} yet.`;
    case "cancelled":
      return `${reference} is cancelled; it does not leave.`;
    case "shipped":
    case "delivered":
      return `${reference} has left already.`;
    case "packing":
    case "packed":
      return `${reference} cannot leave yet.`;
  }
}
