import type { OrderState, Promptness } from "../../server/orders/order.ts";
import { CountCell } from "../components/CountCell.tsx";
import { StateMark } from "../components/StateMark.tsx";
import { shortDayWords } from "../format/dates.ts";
import { PromptnessMark } from "./PromptnessMark.tsx";
import { stateName } from "./stateWords.ts";

export interface OrderTableRow {
  readonly id: number;
  readonly reference: string;
  readonly customer: string;
  readonly shipBy: string;
  readonly state: OrderState;
  readonly ordered: number;
  readonly packed: number;
  readonly shipped: number;
  readonly promptness: Promptness;
}

export function OrderTable({ rows }: { readonly rows: readonly OrderTableRow[] }) {
  return (
    <table class="stack orders">
      <thead>
        <tr>
          <th scope="col">Order</th>
          <th scope="col">Customer</th>
          <th scope="col">Ship by</th>
          <th scope="col" class="number">
            Ordered
          </th>
          <th scope="col" class="number">
            Packed
          </th>
          <th scope="col" class="number">
            Shipped
          </th>
          <th scope="col">State</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <OrderTableLine key={row.id} row={row} />
        ))}
      </tbody>
    </table>
  );
}

function OrderTableLine({ row }: { readonly row: OrderTableRow }) {
  return (
    <tr>
      <th scope="row">
        <a class="order-link" href={`/orders/${row.id}`}>
          {row.reference}
        </a>
      </th>
      <td>{row.customer}</td>
      <td data-label="Ship by">{shortDayWords(row.shipBy)}</td>
      <CountCell label="Ordered" count={row.ordered} />
      <CountCell label="Packed" count={row.packed} />
      <CountCell label="Shipped" count={row.shipped} />
      <td>
        <StateMark words={stateName(row.state)} /> <PromptnessMark promptness={row.promptness} />
      </td>
    </tr>
  );
}
