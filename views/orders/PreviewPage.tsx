import type { OrderState, OrderTerms } from "../../server/orders/order.ts";
import { Form } from "../components/Form.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { shortDayWords } from "../format/dates.ts";
import { counted, pieces, wholeWords } from "../format/quantities.ts";
import { stateWords, termsWords } from "./stateWords.ts";

interface PreviewedOrder {
  readonly reference: string;
  readonly customer: string;
  readonly terms: OrderTerms;
  readonly shipBy: string;
  readonly lines: readonly { readonly product: string; readonly units: number }[];
}

export interface PreviewPageProps {
  readonly fileName: string;
  /** The file itself in base64url, carried by the form that takes it. */
  readonly carried: string;
  readonly fresh: readonly PreviewedOrder[];
  /** What is there already with the same content. */
  readonly takenBefore: readonly {
    readonly reference: string;
    readonly orderId: number;
    readonly state: OrderState;
  }[];
}

/** What a file holds, before it is taken. */
export function PreviewPage({ fileName, carried, fresh, takenBefore }: PreviewPageProps) {
  const units = fresh.reduce((sum, order) => sum + unitsOf(order), 0);
  return (
    <>
      <p class="trail">
        <a href="/orders/import">Another file</a>
      </p>
      <h1>
        {fresh.length === 0
          ? `Nothing in ${fileName} is new: all of it was taken before.`
          : `${fileName} holds ${counted(fresh.length, "new order")} with ${pieces(units)}. Take ${fresh.length === 1 ? "it" : "them"}?`}
      </h1>
      {fresh.length > 0 && (
        <Form action="/orders/import/taking">
          <input type="hidden" name="file_name" value={fileName} />
          <input type="hidden" name="file" value={carried} />
          <p>They are confirmed as they are taken.</p>
          <p class="actions">
            <button type="submit">Take {counted(fresh.length, "order")}</button>
            <a class="button quiet" href="/orders">
              Leave it
            </a>
          </p>
        </Form>
      )}
      {takenBefore.length > 0 && <TakenBefore orders={takenBefore} />}
      {fresh.length > 0 && <NewOrders orders={fresh} />}
    </>
  );
}

function TakenBefore({ orders }: { readonly orders: PreviewPageProps["takenBefore"] }) {
  return (
    <p>
      Left as {orders.length === 1 ? "it is" : "they are"}, taken before with the same content:{" "}
      {orders.map(({ reference, orderId, state }, place) => (
        <span key={orderId}>
          {place > 0 && ", "}
          <a href={`/orders/${orderId}`}>
            <Unbroken words={reference} />
          </a>
          {state === "cancelled" && ` (${stateWords(state)} since)`}
        </span>
      ))}
      .
    </p>
  );
}

function NewOrders({ orders }: { readonly orders: readonly PreviewedOrder[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Order</th>
          <th scope="col">Customer</th>
          <th scope="col">Ship by</th>
          <th scope="col">Delivery</th>
          <th scope="col">What</th>
          <th scope="col" class="number">
            Pieces
          </th>
        </tr>
      </thead>
      <tbody>
        {orders.map((order) => (
          <NewOrderLine key={order.reference} order={order} />
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colSpan={5}>
            {counted(orders.length, "order")}
          </th>
          <td class="number" data-label="Pieces">
            {wholeWords(orders.reduce((sum, order) => sum + unitsOf(order), 0))}
          </td>
        </tr>
      </tfoot>
    </table>
  );
}

function NewOrderLine({ order }: { readonly order: PreviewedOrder }) {
  return (
    <tr>
      <th scope="row">
        <Unbroken words={order.reference} />
      </th>
      <td>{order.customer}</td>
      <td data-label="Ship by">{shortDayWords(order.shipBy)}</td>
      <td data-label="Delivery">{termsWords(order.terms)}</td>
      <td>
        <ul class="bare">
          {order.lines.map(({ product, units }) => (
            <li key={product}>
              {wholeWords(units)} {product}
            </li>
          ))}
        </ul>
      </td>
      <td class="number" data-label="Pieces">
        {wholeWords(unitsOf(order))}
      </td>
    </tr>
  );
}

function unitsOf(order: PreviewedOrder): number {
  return order.lines.reduce((sum, line) => sum + line.units, 0);
}
