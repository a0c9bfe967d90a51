import { StateMark } from "../components/StateMark.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { shortDayWords } from "../format/dates.ts";
import { pieces, wholeWords } from "../format/quantities.ts";
import type { OrderFigures } from "./planFigures.ts";
import { fateWords, reasonWords } from "./planWords.ts";

/** What becomes of each order, those in trouble first. */
export function OrderFates({
  orders,
  lastDate,
}: {
  readonly orders: readonly OrderFigures[];
  readonly lastDate: string;
}) {
  return (
    <section>
      <h2 id="orders">What becomes of each order</h2>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">Order</th>
            <th scope="col">Ship by</th>
            <th scope="col">Ready</th>
            <th scope="col">So it is</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {orders.map((order) => (
            <OrderFate key={order.reference} order={order} lastDate={lastDate} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

function OrderFate({ order, lastDate }: { readonly order: OrderFigures; readonly lastDate: string }) {
  const { reference, orderId, fate } = order;
  return (
    <tr>
      <th scope="row">
        {orderId === null ? (
          <Unbroken words={reference} />
        ) : (
          <a href={`/orders/${orderId}`}>
            <Unbroken words={reference} />
          </a>
        )}{" "}
        <span class="aside order-of">
          {order.customer === "" ? "" : `${order.customer}, `}
          {pieces(order.units)}
          {order.spare > 0 && `, and ${wholeWords(order.spare)} for losses`}
        </span>
      </th>
      <td class="nowrap" data-label={order.market ? "Market" : "Ship by"}>
        {shortDayWords(order.shipBy)}
      </td>
      <td class="nowrap" data-label="Ready">
        {order.readyOn === null ? "not in full" : shortDayWords(order.readyOn)}
      </td>
      <td data-label="So it is">
        <StateMark words={fateWords[fate](order)} urgent={fate === "late" || fate === "short"} />
      </td>
      <td data-label="Why">{reasonWords(order, lastDate)}</td>
    </tr>
  );
}
