import type { ComponentChildren } from "preact";
import type { TracedLot } from "../../server/trace/queries.ts";
import { CountCell } from "../components/CountCell.tsx";
import { signedWords } from "../format/quantities.ts";
import { MOST_ROWS, type ProductSum, sumsByProduct } from "./traceSums.ts";

interface PiecesTableProps {
  readonly name: string;
  readonly lots: readonly TracedLot[];
  /** The address of the trace's page, which shows the lots of one product where there are too many of all. */
  readonly page: string;
  /** The product whose lots are asked for one by one; null: all. */
  readonly productId?: number | null;
}

/**
 * Where the pieces of some lots are: lot by lot, or by product where there are too many. Made, came home and counted on one
 * side is the rest on the other.
 */
export function PiecesTable({ name, lots, page, productId = null }: PiecesTableProps) {
  if (lots.length === 0) return null;
  const its = lots.filter((lot) => lot.productId === productId);
  return (
    <section id="pieces">
      <h2>{name}</h2>
      {lots.length <= MOST_ROWS ? (
        <Pieces first={["Lot"]}>{lots.map(lotRow)}</Pieces>
      ) : its.length > 0 ? (
        <>
          <p>
            Only lots of {its[0]?.product}. <a href={`${page}#pieces`}>All products</a>
          </p>
          <Pieces first={["Lot"]}>{its.map(lotRow)}</Pieces>
        </>
      ) : (
        <Pieces first={["Product", "Lots"]}>{sumsByProduct(lots).map((sum) => productRow(sum, page))}</Pieces>
      )}
      <p class="aside">
        Made, come home and counted together are what is on the shelf (or still drying), in boxes, left and
        lost.
      </p>
    </section>
  );
}

const columns = ["Made", "On the shelf", "In boxes", "Left", "Came home", "Lost", "Counted"] as const;

function Pieces({
  first: [first, ...others],
  children,
}: {
  readonly first: readonly string[];
  readonly children: ComponentChildren;
}) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">{first}</th>
          {[...others, ...columns].map((column) => (
            <th key={column} scope="col" class="number">
              {column}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>{children}</tbody>
    </table>
  );
}

function lotRow(lot: TracedLot) {
  return (
    <tr key={lot.id}>
      <th scope="row">
        <a href={`/trace/lots/${lot.id}`}>{lot.code}</a> {lot.product}
      </th>
      <SumCells sums={lot} />
    </tr>
  );
}

function productRow(sum: ProductSum, page: string) {
  return (
    <tr key={sum.productId}>
      <th scope="row">
        <a href={`${page}?product=${sum.productId}#pieces`}>{sum.product}</a>
      </th>
      <CountCell label="Lots" count={sum.lots} />
      <SumCells sums={sum} />
    </tr>
  );
}

function SumCells({ sums }: { readonly sums: Omit<ProductSum, "productId" | "product" | "lots"> }) {
  return (
    <>
      <CountCell label="Made" count={sums.made} />
      <CountCell label="On the shelf" count={sums.here} />
      <CountCell label="In boxes" count={sums.packed} />
      <CountCell label="Left" count={sums.shipped} />
      <CountCell label="Came home" count={sums.cameHome} />
      <CountCell label="Lost" count={sums.lost} />
      <td class={sums.counted === 0 ? "number none" : "number"} data-label="Counted">
        {sums.counted === 0 ? "·" : signedWords(sums.counted)}
      </td>
    </>
  );
}
