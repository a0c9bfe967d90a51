import { PaperSheet } from "../papers/PaperSheet.tsx";
import type { Paper } from "../papers/paper.ts";
import type { ShownOrder } from "./OrderPage.tsx";

/** What the workshop promises, on paper: for the customer to hold against what arrives. A draft is an offer. */
export function ConfirmationPage({ order, paper }: { readonly order: ShownOrder; readonly paper: Paper }) {
  return (
    <>
      <div class="not-printed">
        <p class="trail">
          <a href={`/orders/${order.id}`}>{order.reference}</a>
        </p>
        <h1>
          {order.confirmedAt === null
            ? `Offer for ${order.reference}`
            : `We confirm your order ${order.reference}`}
        </h1>
        <p class="actions">
          <a class="button quiet" href={`/orders/${order.id}/confirmation.pdf`} download>
            Save it as PDF
          </a>
        </p>
        <p class="aside">Print this page: only the paper comes out.</p>
      </div>
      <PaperSheet paper={paper} />
    </>
  );
}
