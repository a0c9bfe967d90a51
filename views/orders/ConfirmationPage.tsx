import { dateOf, dayWords } from "../format/dates.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { OrderLinesTable } from "./OrderLinesTable.tsx";
import { MoneySums } from "./OrderMoney.tsx";
import type { ShownOrder } from "./OrderPage.tsx";
import { termsWords } from "./stateWords.ts";

/** What the workshop promises, on paper: for the customer to hold against what arrives. A draft is an offer. */
export function ConfirmationPage({ order, today }: { readonly order: ShownOrder; readonly today: string }) {
  const { workshop } = usePageContext();
  const timeZone = workshop?.timeZone ?? "UTC";
  const dated = order.confirmedAt === null ? today : dateOf(order.confirmedAt, timeZone);
  return (
    <>
      <p class="trail">
        <a href={`/orders/${order.id}`}>{order.reference}</a>
      </p>
      <article class="sheet confirmation">
        <header>
          <h1>
            {order.confirmedAt === null
              ? `Offer for ${order.reference}`
              : `We confirm your order ${order.reference}`}
          </h1>
          <p>
            {workshop?.name}, {dayWords(dated, { year: true })}
          </p>
        </header>
        <p>
          <strong>{order.customer}</strong>
          <br />
          <span class="as-typed">{order.address}</span>
        </p>
        <dl class="facts">
          {order.customerReference && (
            <div>
              <dt>Your number</dt>
              <dd>{order.customerReference}</dd>
            </div>
          )}
          <div>
            <dt>Leaves us by</dt>
            <dd>{dayWords(order.shipBy, { year: true })}</dd>
          </div>
          {order.neededBy && (
            <div>
              <dt>Needed by</dt>
              <dd>{dayWords(order.neededBy, { year: true })}</dd>
            </div>
          )}
          <div>
            <dt>Delivery</dt>
            <dd>{termsWords(order.terms)}</dd>
          </div>
        </dl>
        <OrderLinesTable lines={order.lines} currency={order.money.currency} progress={false} />
        {order.money.unpriced < order.money.lines.length && <MoneySums money={order.money} />}
      </article>
    </>
  );
}
