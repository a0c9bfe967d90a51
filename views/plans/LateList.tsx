import { Unbroken } from "../components/Unbroken.tsx";
import { shortDayWords } from "../format/dates.ts";
import { lateWords } from "./lateWords.ts";
import type { LateFigures } from "./planFigures.ts";

/** Why orders are late, a few sentences each, the worst first. */
export function LateList({ late }: { readonly late: readonly LateFigures[] }) {
  if (late.length === 0) return null;
  return (
    <section>
      <h2 id="why-late">Why orders are late</h2>
      <ul class="plain-list">
        {late.map((order) => (
          <li key={order.reference}>
            <strong>
              <LinkedOrder order={order} />
            </strong>
            {order.customer !== "" && ` for ${order.customer}`}, {order.market ? "market on" : "ship by"}{" "}
            {shortDayWords(order.shipBy)}.{" "}
            {lateWords(order).map((words) => (
              <span key={words}>
                <Unbroken words={words} />{" "}
              </span>
            ))}
          </li>
        ))}
      </ul>
    </section>
  );
}

function LinkedOrder({ order }: { readonly order: LateFigures }) {
  const reference = <Unbroken words={order.reference} />;
  return order.orderId === null ? reference : <a href={`/orders/${order.orderId}`}>{reference}</a>;
}
