import type { OrderTrace } from "../../server/trace/traces.ts";
import { pieces, spelled } from "../format/quantities.ts";
import { SuppliesTable } from "./SuppliesTable.tsx";

/** An order, back to every lot of a supply in it and around it. */
export function OrderTracePage({ trace: { order, supplies, packaging } }: { readonly trace: OrderTrace }) {
  const runIds = [...new Set(order.pieces.flatMap(({ runId }) => (runId === null ? [] : [runId])))];
  const units = order.pieces.reduce((sum, part) => sum + part.units, 0);
  return (
    <>
      <p class="trail">
        <a href="/trace">Trace</a>
        {" · "}
        <a href={`/orders/${order.id}`}>{order.reference}</a>
      </p>
      <h1>
        {units === 0
          ? `Nothing is packed for ${order.reference} of ${order.customer}.`
          : `${order.reference} for ${order.customer}: ${pieces(units)} from ${spelled(order.pieces.length, "lot")}.`}
      </h1>
      {order.pieces.length > 0 && (
        <ul class="plain-list">
          {order.pieces.map((part) => (
            <li key={part.lotId}>
              {pieces(part.units)} of <a href={`/trace/lots/${part.lotId}`}>{part.code}</a> {part.product}
              {part.runId === null && ", from before the first plan"}
            </li>
          ))}
        </ul>
      )}
      {runIds.map((runId) => (
        <SuppliesTable
          key={runId}
          name={`The batch of ${codesOf(order.pieces, runId)} was mixed from`}
          rows={supplies.filter((row) => row.runId === runId)}
        />
      ))}
      <SuppliesTable name="Packed with" rows={packaging} />
    </>
  );
}

function codesOf(parts: OrderTrace["order"]["pieces"], runId: number): string {
  return parts
    .filter((part) => part.runId === runId)
    .map(({ code }) => code)
    .join(" and ");
}
