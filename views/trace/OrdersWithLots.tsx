import type { OrderWithLot } from "../../server/trace/queries.ts";
import { CountCell } from "../components/CountCell.tsx";
import { dateOf, shortDayWords } from "../format/dates.ts";
import { type CustomerSum, MOST_ROWS, sumsByCustomer } from "./traceSums.ts";

interface OrdersWithLotsProps {
  readonly orders: readonly OrderWithLot[];
  readonly lots: readonly { readonly id: number; readonly code: string }[];
  readonly timeZone: string;
  /** The address of the trace's page, below which its file is. */
  readonly page: string;
  /** Whose orders are asked for one by one; null: everybody's. */
  readonly customerId: number | null;
}

/** Who has pieces of some lots, and whom to call there: order by order, or by customer where there are too many. */
export function OrdersWithLots({ orders, lots, timeZone, page, customerId }: OrdersWithLotsProps) {
  if (orders.length === 0) return <p>No order has any of these pieces.</p>;
  const its = orders.filter((order) => order.customerId === customerId);
  return (
    <section id="who">
      <h2>Who has them</h2>
      {orders.length <= MOST_ROWS ? (
        <OrderRows orders={orders} lots={lots} timeZone={timeZone} />
      ) : its.length > 0 ? (
        <>
          <p>
            Only what {its[0]?.customer} has. <a href={`${page}#who`}>Everybody who has some</a>
          </p>
          <OrderRows orders={its} lots={lots} timeZone={timeZone} />
        </>
      ) : (
        <CustomerRows sums={sumsByCustomer(orders)} timeZone={timeZone} page={page} />
      )}
      <p class="actions">
        <a class="button quiet" href={`${page}/orders.csv`} download>
          Save every order and lot as CSV
        </a>
      </p>
    </section>
  );
}

const counts = ["In its box", "Left", "Came home"] as const;

function OrderRows({ orders, lots, timeZone }: Pick<OrdersWithLotsProps, "orders" | "lots" | "timeZone">) {
  const codes = new Map(lots.map(({ id, code }) => [id, code]));
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Order</th>
          <th scope="col">Customer</th>
          <th scope="col">Whom to call</th>
          <th scope="col">Lot</th>
          {counts.map((name) => (
            <th key={name} scope="col" class="number">
              {name}
            </th>
          ))}
          <th scope="col">Last left</th>
        </tr>
      </thead>
      <tbody>
        {orders.map((row) => (
          <tr key={`${row.orderId} ${row.lotId}`}>
            <th scope="row">
              <a href={`/trace/orders/${row.orderId}`}>{row.reference}</a>
            </th>
            <td data-label="Customer">
              <a href={`/setup/customers/${row.customerId}`}>{row.customer}</a>
            </td>
            <td data-label="Whom to call" class="as-typed">
              {whomToCall(row)}
            </td>
            <td data-label="Lot">
              <a href={`/trace/lots/${row.lotId}`}>{codes.get(row.lotId)}</a>
            </td>
            <PieceCells row={row} />
            <LastLeft at={row.lastLeftAt} timeZone={timeZone} />
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function CustomerRows({
  sums,
  timeZone,
  page,
}: Pick<OrdersWithLotsProps, "timeZone" | "page"> & { readonly sums: readonly CustomerSum[] }) {
  const sum = (of: "packed" | "shipped" | "cameHome") => sums.reduce((total, row) => total + row[of], 0);
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Customer</th>
          <th scope="col">Whom to call</th>
          {["Orders", "Lots", ...counts].map((name) => (
            <th key={name} scope="col" class="number">
              {name}
            </th>
          ))}
          <th scope="col">Last left</th>
        </tr>
      </thead>
      <tbody>
        {sums.map((row) => (
          <tr key={row.customerId}>
            <th scope="row">
              <a href={`${page}?customer=${row.customerId}#who`}>{row.customer}</a>
            </th>
            <td data-label="Whom to call" class="as-typed">
              {whomToCall(row)}
            </td>
            <CountCell label="Orders" count={row.orders} />
            <CountCell label="Lots" count={row.lots} />
            <PieceCells row={row} />
            <LastLeft at={row.lastLeftAt} timeZone={timeZone} />
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colSpan={4}>
            All of them
          </th>
          <PieceCells row={{ packed: sum("packed"), shipped: sum("shipped"), cameHome: sum("cameHome") }} />
          <td />
        </tr>
      </tfoot>
    </table>
  );
}

function PieceCells({
  row: { packed, shipped, cameHome },
}: {
  readonly row: Pick<OrderWithLot, "packed" | "shipped" | "cameHome">;
}) {
  return [packed, shipped, cameHome].map((count, place) => (
    <CountCell key={counts[place]} label={counts[place] ?? ""} count={count} />
  ));
}

function LastLeft({ at, timeZone }: { readonly at: string | null; readonly timeZone: string }) {
  return (
    <td data-label={at === null ? undefined : "Last left"}>
      {at !== null && shortDayWords(dateOf(new Date(at), timeZone))}
    </td>
  );
}

function whomToCall({ contact, address }: Pick<OrderWithLot, "contact" | "address">): string {
  return contact || address || "nobody was written down";
}
