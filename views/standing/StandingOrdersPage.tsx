import { StateMark } from "../components/StateMark.tsx";
import { pieces } from "../format/quantities.ts";
import { patternWords, type StandingSummary, standingHeadline, stateWords } from "./standingWords.ts";

/** What shops want again and again. */
export function StandingOrdersPage({ orders }: { readonly orders: readonly StandingSummary[] }) {
  return (
    <>
      <p class="trail">
        <a href="/orders">Orders</a>
      </p>
      <h1>{standingHeadline(orders)}</h1>
      <p>
        What a shop wants again and again becomes a draft before each of its dates and waits for your yes.
      </p>
      <p class="actions">
        <a class="button" href="/orders/standing/new">
          Take up a standing order
        </a>
      </p>
      {orders.length > 0 && (
        <ul class="plain-list">
          {orders.map((order) => (
            <li key={order.id} class="row">
              <span>
                <a class="order-link" href={`/orders/standing/${order.id}`}>
                  {order.customer}
                </a>
                <span class="aside said">
                  {pieces(order.units)} {patternWords(order.pattern)}
                </span>
              </span>
              <StateMark words={stateWords(order)} />
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
