import type { OrderWithLot } from "../../server/trace/queries.ts";
import { CountCell } from "../components/CountCell.tsx";
import { dateOf, shortDayWords } from "../format/dates.ts";

/** Who has pieces of some lots, and whom to call there. */
export function OrdersWithLots({
  orders,
  lots,
  timeZone,
  file,
}: {
  readonly orders: readonly OrderWithLot[];
  readonly lots: readonly { readonly id: number; readonly code: string }[];
  readonly timeZone: string;
  readonly file: string;
}) {
  const codes = new Map(lots.map(({ id, code }) => [id, code]));
  if (orders.length === 0) return <p>No order has any of these pieces.</p>;
  return (
    <>
      <h2>Who has them</h2>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">Order</th>
            <th scope="col">Customer</th>
            <th scope="col">Whom to call</th>
            <th scope="col">Lot</th>
            {["In its box", "Left", "Came home"].map((name) => (
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
                {row.contact || row.address || "nobody was written down"}
              </td>
              <td data-label="Lot">
                <a href={`/trace/lots/${row.lotId}`}>{codes.get(row.lotId)}</a>
              </td>
              <CountCell label="In its box" count={row.packed} />
              <CountCell label="Left" count={row.shipped} />
              <CountCell label="Came home" count={row.cameHome} />
              <td data-label={row.lastLeftAt === null ? undefined : "Last left"}>
                {row.lastLeftAt !== null && shortDayWords(dateOf(new Date(row.lastLeftAt), timeZone))}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="actions">
        <a class="button quiet" href={file} download>
          Save this list as CSV
        </a>
      </p>
    </>
  );
}
