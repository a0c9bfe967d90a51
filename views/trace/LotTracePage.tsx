import type { LotTrace } from "../../server/trace/traces.ts";
import { pieces, spelled } from "../format/quantities.ts";
import { OrdersWithLots } from "./OrdersWithLots.tsx";
import { PiecesTable } from "./PiecesTable.tsx";
import { SuppliesTable } from "./SuppliesTable.tsx";
import type { Narrowed } from "./SupplyLotTracePage.tsx";

/** A lot of pieces, both ways: what it was mixed from, and who has it. */
export function LotTracePage({
  trace,
  recalled,
  timeZone,
  only,
}: {
  readonly trace: LotTrace;
  readonly only: Pick<Narrowed, "customerId">;
  readonly recalled: boolean;
  readonly timeZone: string;
}) {
  const { lot, supplies, orders } = trace;
  const page = `/trace/lots/${lot.id}`;
  const gone = lot.shipped - lot.cameHome;
  const customers = new Set(orders.map(({ customerId }) => customerId)).size;
  return (
    <>
      <p class="trail">
        <a href="/trace">Trace</a>
        {" · "}
        <a href={`/shelf/${lot.id}`}>{lot.code} on the shelf</a>
      </p>
      <h1>
        {gone === 0
          ? `None of ${lot.code}, ${lot.product}, is outside.`
          : `${pieces(gone)} of ${lot.code}, ${lot.product}, ${gone === 1 ? "is" : "are"} with ${spelled(customers, "customer")}.`}
      </h1>
      <p class="actions">
        <a class="button quiet" href={`/recalls/new?kind=lot&id=${lot.id}`}>
          {recalled ? "Its recall" : "Recall it"}
        </a>
      </p>
      <PiecesTable name="Where its pieces are" lots={[lot]} page={page} />
      <OrdersWithLots
        orders={orders}
        lots={[lot]}
        timeZone={timeZone}
        page={page}
        customerId={only.customerId}
      />
      {lot.runId === null ? (
        <p>It was there before the first plan: nobody wrote down what it was mixed from.</p>
      ) : supplies.length === 0 ? (
        <p>Nothing is booked as used for its batch.</p>
      ) : (
        <SuppliesTable name="What its batch was mixed from" rows={supplies} />
      )}
    </>
  );
}
