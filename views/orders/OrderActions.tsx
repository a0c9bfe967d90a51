import { pieces } from "../format/quantities.ts";
import type { ShownOrder } from "./OrderPage.tsx";

/** What can be done with an order in its state. */
export function OrderActions({ order }: { readonly order: ShownOrder }) {
  const { id, state } = order;
  const changing = state === "draft" || state === "confirmed" || state === "packing";
  return (
    <>
      <div class="actions">
        {(state === "confirmed" || state === "packing") && (
          <a class="button" href={`/packing/${id}`}>
            Pack it
          </a>
        )}
        {changing && (
          <a class="button quiet" href={`/orders/${id}/edit`}>
            Change it
          </a>
        )}
        {order.terms === "market" && (
          <a class="button quiet" href={`/markets/of-order/${id}`}>
            To its market
          </a>
        )}
        {order.lines.some(({ packed }) => packed > 0) && (
          <a class="button quiet" href={`/trace/orders/${id}`}>
            What its pieces were made of
          </a>
        )}
        <a class="button quiet" href={`/orders/new?copy=${id}`}>
          Order the same again
        </a>
        {state !== "cancelled" && (
          <a class="button quiet" href={`/orders/${id}/confirmation`}>
            {state === "draft" ? "Offer to print" : "Confirmation to print"}
          </a>
        )}
      </div>
      {(changing || state === "packed") && <Cancellation order={order} />}
    </>
  );
}

/** Leads to what it would do, which asks once more; or says why it cannot be done. */
function Cancellation({ order }: { readonly order: ShownOrder }) {
  const shipped = order.lines.reduce((sum, line) => sum + line.shipped, 0);
  if (shipped > 0)
    return (
      <p class="aside">
        {pieces(shipped)} have left already, so the order cannot be cancelled. If the rest is no longer
        wanted, <a href={`/orders/${order.id}/edit`}>cut its lines to what has left</a>.
      </p>
    );
  return (
    <p>
      <a href={`/orders/${order.id}/cancellation`}>Cancel the order …</a>
    </p>
  );
}
