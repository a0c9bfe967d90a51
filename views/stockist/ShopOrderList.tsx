import type { ShopOrderRow } from "../../server/stockist/shopOrders.ts";
import { StateMark } from "../components/StateMark.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { dateOf, shortDayWords } from "../format/dates.ts";
import { pieces } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { whereItStands } from "./shopWords.ts";

/** The shop's own orders and where each stands. `base` is the page's own address. */
export function ShopOrderList({
  base,
  orders,
}: {
  readonly base: string;
  readonly orders: readonly ShopOrderRow[];
}) {
  const { workshop } = usePageContext();
  if (orders.length === 0) return null;
  return (
    <section>
      <h2>Your orders</h2>
      <ul class="plain-list">
        {orders.map((order) => (
          <li key={order.id} class="row">
            <span>
              <a class="order-link" href={`${base}/orders/${encodeURIComponent(order.knownAs)}`}>
                <Unbroken words={order.knownAs} />
              </a>{" "}
              {order.customerReference !== "" && <span>{order.customerReference} </span>}
              <span class="aside said">
                {pieces(order.units)}, of{" "}
                {shortDayWords(dateOf(order.createdAt, workshop?.timeZone ?? "UTC"))}
              </span>
            </span>
            <StateMark words={whereItStands(order)} />
          </li>
        ))}
      </ul>
    </section>
  );
}
