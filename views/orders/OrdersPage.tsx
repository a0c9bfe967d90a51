import type { WaitingDraft } from "../../server/stockist/waitingDrafts.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { counted, pieces, wholeWords } from "../format/quantities.ts";
import { OrderFilters, type OrderFiltersProps } from "./OrderFilters.tsx";
import { OrderTable, type OrderTableRow } from "./OrderTable.tsx";
import { type OrdersSummary, ordersHeadline } from "./ordersHeadline.ts";
import { Pager, type PagerProps } from "./Pager.tsx";
import { WaitingDrafts } from "./WaitingDrafts.tsx";

export interface OrdersPageProps {
  readonly summary: OrdersSummary;
  readonly filters: OrderFiltersProps;
  readonly rows: readonly OrderTableRow[];
  readonly latestFirst: boolean;
  readonly pager: PagerProps;
  /** Drafts that came by themselves. */
  readonly waiting: readonly WaitingDraft[];
  /** Orders just taken from a file; null when one does not come from there. */
  readonly justTaken: number | null;
}

/** Who wants what by when. */
export function OrdersPage({
  summary,
  filters,
  rows,
  latestFirst,
  pager,
  waiting,
  justTaken,
}: OrdersPageProps) {
  return (
    <>
      <h1>
        <Unbroken words={ordersHeadline(summary)} />
      </h1>
      {justTaken !== null && (
        <p class="notice" role="status">
          {counted(justTaken, "order")} taken from the file and confirmed. The next <a href="/plan">plan</a>{" "}
          counts {justTaken === 1 ? "it" : "them"} in.
        </p>
      )}
      <p class="actions">
        <a class="button" href="/orders/new">
          Enter an order
        </a>
        <a class="button quiet" href="/orders/import">
          Take orders from a file
        </a>
        <a class="button quiet" href="/orders/standing">
          Standing orders
        </a>
        <a class="button quiet" href="/markets">
          Markets
        </a>
        <a class="button quiet" href="/invoices">
          Invoices
        </a>
      </p>
      <WaitingDrafts drafts={waiting} />
      {summary.all > 0 && <OrderFilters {...filters} />}
      {rows.length > 0 ? (
        <>
          <p class="aside">{shownWords(pager, rows, latestFirst)}</p>
          <OrderTable rows={rows} />
          <Pager {...pager} />
          <p class="actions">
            <a class="button quiet" href={filters.file} download>
              Save this list as CSV
            </a>
          </p>
        </>
      ) : (
        summary.all > 0 && <p>No order is like that.</p>
      )}
    </>
  );
}

function shownWords(pager: PagerProps, rows: readonly OrderTableRow[], latestFirst: boolean): string {
  const first = pager.firstShown;
  const units = rows.reduce((sum, row) => sum + row.ordered, 0);
  const span =
    rows.length === pager.total
      ? counted(pager.total, "order")
      : `Orders ${wholeWords(first)} to ${wholeWords(first + rows.length - 1)} of ${wholeWords(pager.total)}`;
  return `${span}, ${pieces(units)}; the ${latestFirst ? "latest" : "earliest"} ship-by date first.`;
}
