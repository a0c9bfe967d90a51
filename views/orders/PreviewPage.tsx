import type { OrderState, OrderTerms } from "../../server/orders/order.ts";
import { Form } from "../components/Form.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { counted, pieces, wholeWords } from "../format/quantities.ts";
import { type CarriedFile, CarriedFileFields } from "./CarriedFileFields.tsx";
import { FileWatch } from "./FileProgress.tsx";
import { stateWords, termsWords } from "./stateWords.ts";

interface PreviewedOrder {
  readonly reference: string;
  readonly customer: string;
  readonly terms: OrderTerms;
  readonly shipBy: string;
  readonly neededBy: string | null;
  /** Blank where there is none; so is the note. */
  readonly theirNumber: string;
  readonly note: string;
  readonly lines: readonly {
    readonly product: string;
    readonly units: number;
    /** As the file says; null: as the price lists say. */
    readonly unitPriceMinor: number | null;
  }[];
}

export interface PreviewPageProps {
  readonly carried: CarriedFile;
  /** ISO 4217: what the file's prices are in. */
  readonly currency: string;
  /** Lines of orders that were read and checked. */
  readonly linesRead: number;
  readonly leftOut: readonly {
    readonly what: "customer" | "product";
    readonly written: string;
    readonly lines: number;
  }[];
  readonly fresh: readonly PreviewedOrder[];
  /** What is there already with the same content. */
  readonly takenBefore: readonly {
    readonly reference: string;
    readonly orderId: number;
    readonly state: OrderState;
  }[];
}

/** What a file holds, before it is taken. */
export function PreviewPage({ carried, currency, linesRead, leftOut, fresh, takenBefore }: PreviewPageProps) {
  return (
    <>
      <p class="trail">
        <a href="/orders/import">Another file</a>
      </p>
      <h1>{headline(carried.fileName, fresh, takenBefore.length)}</h1>
      <p class="aside">
        {counted(linesRead, "line")} read and checked.{DATES_READ[carried.dates]}
      </p>
      {leftOut.length > 0 && <LeftOut names={leftOut} />}
      {fresh.length > 0 && (
        <Form action="/orders/import/taking">
          <CarriedFileFields carried={carried} />
          <input type="hidden" name="currency" value={currency} />
          <p>They are confirmed as they are taken.</p>
          <p class="actions">
            <button type="submit">Take {counted(fresh.length, "order")}</button>
            <a class="button quiet" href="/orders">
              Leave it
            </a>
          </p>
          <FileWatch />
        </Form>
      )}
      {takenBefore.length > 0 && <TakenBefore orders={takenBefore} />}
      {fresh.length > 0 && <NewOrders orders={fresh} currency={currency} />}
    </>
  );
}

/** Orders shown one by one: nobody looks through thousands, and no phone likes to draw them. */
const MOST_SHOWN = 200;

const DATES_READ = {
  iso: "",
  "day-first": " Dates are read with the day first.",
  "month-first": " Dates are read with the month first.",
} as const;

function headline(fileName: string, fresh: readonly PreviewedOrder[], takenBefore: number): string {
  if (fresh.length === 0)
    return takenBefore > 0
      ? `Nothing in ${fileName} is new: all of it was taken before.`
      : `Nothing in ${fileName} is left to take: all its lines are left out.`;
  const units = fresh.reduce((sum, order) => sum + unitsOf(order), 0);
  return `${fileName} holds ${counted(fresh.length, "new order")} with ${pieces(units)}. Take ${fresh.length === 1 ? "it" : "them"}?`;
}

function LeftOut({ names }: { readonly names: PreviewPageProps["leftOut"] }) {
  return (
    <p class="notice">
      Left out, as was said of these names:{" "}
      {names
        .map(({ what, written, lines }) => `“${written}”, a ${what}, in ${counted(lines, "line")}`)
        .join("; ")}
      . <a href="/orders/import/names">What names mean</a>
    </p>
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

function NewOrders({
  orders,
  currency,
}: {
  readonly orders: readonly PreviewedOrder[];
  readonly currency: string;
}) {
  const shown = orders.slice(0, MOST_SHOWN);
  return (
    <>
      {shown.length < orders.length && (
        <p class="aside">
          The first {wholeWords(shown.length)} of {counted(orders.length, "order")} are shown here; all were
          checked.
        </p>
      )}
      <OrdersTable orders={shown} currency={currency} all={orders} />
    </>
  );
}

function OrdersTable({
  orders,
  all,
  currency,
}: {
  readonly orders: readonly PreviewedOrder[];
  /** Those that are not shown count as well. */
  readonly all: readonly PreviewedOrder[];
  readonly currency: string;
}) {
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
          <NewOrderLine key={order.reference} order={order} currency={currency} />
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colSpan={5}>
            {counted(all.length, "order")}
          </th>
          <td class="number" data-label="Pieces">
            {wholeWords(all.reduce((sum, order) => sum + unitsOf(order), 0))}
          </td>
        </tr>
      </tfoot>
    </table>
  );
}

function NewOrderLine({ order, currency }: { readonly order: PreviewedOrder; readonly currency: string }) {
  return (
    <tr>
      <th scope="row">
        <Unbroken words={order.reference} />
        {order.theirNumber !== "" && <span class="aside"> their {order.theirNumber}</span>}
      </th>
      <td>{order.customer}</td>
      <td data-label="Ship by">
        {shortDayWords(order.shipBy)}
        {order.neededBy !== null && <span class="aside"> needed by {shortDayWords(order.neededBy)}</span>}
      </td>
      <td data-label="Delivery">{termsWords(order.terms)}</td>
      <td>
        <ul class="bare">
          {order.lines.map(({ product, units, unitPriceMinor }) => (
            <li key={product}>
              {wholeWords(units)} {product}
              {unitPriceMinor !== null && ` at ${moneyWords(unitPriceMinor, currency)}`}
            </li>
          ))}
        </ul>
        {order.note !== "" && <p class="aside as-typed">{order.note}</p>}
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
