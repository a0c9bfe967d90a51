import type { SupplyLotTrace } from "../../server/trace/traces.ts";
import { FactList } from "../components/FactList.tsx";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { pieces, spelled } from "../format/quantities.ts";
import { countedWords, signedAmountWords, supplyAmountWords } from "../supplies/supplyWords.ts";
import { OrdersWithLots } from "./OrdersWithLots.tsx";
import { PiecesTable } from "./PiecesTable.tsx";

/** A lot of a supply, forward: what it went into, where those pieces are, and whom to call. */
export function SupplyLotTracePage({
  trace,
  recalled,
  timeZone,
}: {
  readonly recalled: boolean;
  readonly trace: SupplyLotTrace;
  readonly timeZone: string;
}) {
  const { lot, runs, pieces: lots, orders, packedWith } = trace;
  return (
    <>
      <p class="trail">
        <a href="/trace">Trace</a>
        {" · "}
        <a href={`/supplies/${lot.supplyId}`}>{lot.supply}</a>
      </p>
      <h1>{headline(trace)}</h1>
      <p class="actions">
        <a class="button quiet" href={`/recalls/new?kind=supply-lot&id=${lot.id}`}>
          {recalled ? "Its recall" : "Recall it and all that was made of it"}
        </a>
      </p>
      <FactList
        facts={[
          ["Supply", lot.supply],
          ["From", lot.supplier ?? ""],
          ["How to reach them", lot.supplierContact ?? ""],
          ["Their lot", lot.supplierLot],
          ["Came on", dayWords(lot.receivedOn, { year: true })],
          ["Good until", lot.expiresOn === null ? "" : dayWords(lot.expiresOn, { year: true })],
        ]}
      />
      <h2>What became of it</h2>
      <FactList
        facts={[
          ["Came", supplyAmountWords(lot.kind, lot.received)],
          ["Into batches", lot.usedByRuns === 0 ? "" : supplyAmountWords(lot.kind, -lot.usedByRuns)],
          ["Around orders", lot.usedByPacking === 0 ? "" : supplyAmountWords(lot.kind, -lot.usedByPacking)],
          ["Lost", lot.lost === 0 ? "" : supplyAmountWords(lot.kind, -lot.lost)],
          ["Counted otherwise", lot.counted === 0 ? "" : signedAmountWords(lot.kind, lot.counted)],
          ["Here now", supplyAmountWords(lot.kind, lot.onHand)],
        ]}
      />
      {runs.length > 0 && (
        <>
          <h2>Batches with it</h2>
          <ul class="plain-list">
            {runs.map((run) => (
              <li key={run.runId}>
                <a href={`/supplies/runs/${run.runId}`}>
                  {run.blend}, {shortDayWords(run.sessionDate)}
                </a>
                : {supplyAmountWords(lot.kind, run.amount)}
              </li>
            ))}
          </ul>
        </>
      )}
      <PiecesTable name="Pieces made of it" lots={lots} />
      {lots.length > 0 && (
        <OrdersWithLots
          orders={orders}
          lots={lots}
          timeZone={timeZone}
          file={`/trace/supply-lots/${lot.id}/orders.csv`}
        />
      )}
      {packedWith.length > 0 && (
        <>
          <h2>Orders packed with it</h2>
          <ul class="plain-list">
            {packedWith.map((order) => (
              <li key={order.orderId}>
                <a href={`/orders/${order.orderId}`}>{order.reference}</a> for{" "}
                <a href={`/setup/customers/${order.customerId}`}>{order.customer}</a>:{" "}
                {countedWords(lot.kind, order.amount)}
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function headline({ lot, runs, pieces: lots, orders, packedWith }: SupplyLotTrace): string {
  const name = `${lot.code}, ${lot.supply},`;
  if (runs.length === 0 && packedWith.length === 0) return `${name} went into nothing yet.`;
  const gone = orders.reduce((sum, { shipped, cameHome }) => sum + shipped - cameHome, 0);
  const here = lots.reduce((sum, lot) => sum + lot.here + lot.packed, 0);
  const customers = new Set([...orders, ...packedWith].map(({ customerId }) => customerId)).size;
  if (runs.length === 0) return `${name} went around ${spelled(packedWith.length, "order")}.`;
  return `${name} is in ${spelled(runs.length, "batch", "batches")}: ${pieces(gone)} went to ${spelled(customers, "customer")}, ${pieces(here)} ${here === 1 ? "is" : "are"} here.`;
}
