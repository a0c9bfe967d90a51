import type { SupplyLotTrace } from "../../server/trace/traces.ts";
import { FactList } from "../components/FactList.tsx";
import { Fold } from "../components/Fold.tsx";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { pieces, spelled } from "../format/quantities.ts";
import { signedAmountWords, supplyAmountWords } from "../supplies/supplyWords.ts";
import { OrdersWithLots } from "./OrdersWithLots.tsx";
import { PackedWith } from "./PackedWith.tsx";
import { PiecesTable } from "./PiecesTable.tsx";
import { MOST_ROWS } from "./traceSums.ts";

/** Whose rows, or which product's, are asked for one by one; null: nobody's, none's. */
export interface Narrowed {
  readonly customerId: number | null;
  readonly productId: number | null;
}

/** A lot of a supply, forward: what it went into, where those pieces are, and whom to call. */
export function SupplyLotTracePage({
  trace,
  recalled,
  timeZone,
  only,
}: {
  readonly recalled: boolean;
  readonly trace: SupplyLotTrace;
  readonly timeZone: string;
  readonly only: Narrowed;
}) {
  const { lot, pieces: lots, orders, packedWith } = trace;
  const page = `/trace/supply-lots/${lot.id}`;
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
          {recalled ? "Its recall" : recallWords(trace)}
        </a>{" "}
        <a class="button quiet" href={`/supplies/lots/${lot.id}/correction`}>
          Put its day or price right
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
      <Batches trace={trace} />
      <PiecesTable name="Pieces made of it" lots={lots} page={page} productId={only.productId} />
      {lots.length > 0 && (
        <OrdersWithLots
          orders={orders}
          lots={lots}
          timeZone={timeZone}
          page={page}
          customerId={only.customerId}
        />
      )}
      <PackedWith kind={lot.kind} orders={packedWith} page={page} customerId={only.customerId} />
    </>
  );
}

function Batches({ trace: { lot, runs } }: { readonly trace: SupplyLotTrace }) {
  if (runs.length === 0) return null;
  const list = (
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
  );
  if (runs.length > MOST_ROWS)
    return (
      <Fold name="Batches with it" holds={spelled(runs.length, "batch", "batches")} open={false}>
        {list}
      </Fold>
    );
  return (
    <>
      <h2>Batches with it</h2>
      {list}
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

/** Of packaging nothing is made. */
function recallWords({ runs }: SupplyLotTrace): string {
  return runs.length === 0 ? "Recall it" : "Recall it and all that was made of it";
}
