import type { SupplyKind } from "../../server/supplies/kinds.ts";
import type { OrderPackedWith } from "../../server/trace/queries.ts";
import { spelled, wholeWords } from "../format/quantities.ts";
import { countedWords } from "../supplies/supplyWords.ts";
import { MOST_ROWS, packedWithByCustomer } from "./traceSums.ts";

interface PackedWithProps {
  readonly kind: SupplyKind;
  readonly orders: readonly OrderPackedWith[];
  /** The address of the trace's page. */
  readonly page: string;
  /** Whose orders are asked for one by one; null: everybody's. */
  readonly customerId: number | null;
}

/** The orders that were packed with a lot of packaging: one by one, or by customer where there are too many. */
export function PackedWith({ kind, orders, page, customerId }: PackedWithProps) {
  if (orders.length === 0) return null;
  const its = orders.filter((order) => order.customerId === customerId);
  return (
    <section id="packed-with">
      <h2>Orders packed with it</h2>
      {orders.length <= MOST_ROWS ? (
        <OrderList kind={kind} orders={orders} />
      ) : its.length > 0 ? (
        <>
          <p>
            Only those of {its[0]?.customer}. <a href={`${page}#packed-with`}>Everybody's</a>
          </p>
          <OrderList kind={kind} orders={its} />
        </>
      ) : (
        <ul class="plain-list">
          {packedWithByCustomer(orders).map((sum) => (
            <li key={sum.customerId}>
              <a href={`${page}?customer=${sum.customerId}#packed-with`}>{sum.customer}</a>:{" "}
              {countedWords(kind, sum.amount)} around {spelled(sum.orders, "order")}
              {sum.here > 0 && `, ${wholeWords(sum.here)} of them still here`}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function OrderList({ kind, orders }: Pick<PackedWithProps, "kind" | "orders">) {
  return (
    <ul class="plain-list">
      {orders.map((order) => (
        <li key={order.orderId}>
          <a href={`/orders/${order.orderId}`}>{order.reference}</a> for{" "}
          <a href={`/setup/customers/${order.customerId}`}>{order.customer}</a>:{" "}
          {countedWords(kind, order.amount)}
          {order.here > 0 && `, ${wholeWords(order.here)} of them still here`}
        </li>
      ))}
    </ul>
  );
}
