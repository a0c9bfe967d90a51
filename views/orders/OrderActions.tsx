import { Form } from "../components/Form.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { pieces } from "../format/quantities.ts";
import type { ShownOrder } from "./OrderPage.tsx";

/** What can be done with an order in its state. */
export function OrderActions({ order }: { readonly order: ShownOrder }) {
  const { id, state } = order;
  const changing = state === "draft" || state === "confirmed" || state === "packing";
  return (
    <>
      <div class="actions">
        {state === "draft" && (
          <Form action={`/orders/${id}/confirmation`}>
            <button type="submit">Confirm the order</button>
          </Form>
        )}
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
      </div>
      {(changing || state === "packed") && <Cancellation order={order} />}
    </>
  );
}

/** Asks before it is done, and says what would happen; or says why it cannot be done. */
function Cancellation({ order }: { readonly order: ShownOrder }) {
  const packed = order.lines.reduce((sum, line) => sum + line.packed, 0);
  const shipped = order.lines.reduce((sum, line) => sum + line.shipped, 0);
  if (shipped > 0)
    return (
      <p class="aside">
        {pieces(shipped)} have left already, so the order cannot be cancelled. If the rest is no longer
        wanted, <a href={`/orders/${order.id}/edit`}>cut its lines to what has left</a>.
      </p>
    );
  return (
    <details class="asks-first">
      <summary>Cancel the order …</summary>
      <p>
        {packed > 0
          ? `The ${pieces(packed)} in its box go back to the shelf. `
          : "Nothing is packed for it yet. "}
        A cancelled order stays in the list and cannot be taken up again.
      </p>
      <Form action={`/orders/${order.id}/cancellation`}>
        <button type="submit">
          <Unbroken words={`Yes, cancel ${order.reference}`} />
        </button>
      </Form>
    </details>
  );
}
