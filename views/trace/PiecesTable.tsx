import type { TracedLot } from "../../server/trace/queries.ts";
import { CountCell } from "../components/CountCell.tsx";
import { signedWords } from "../format/quantities.ts";

const columns = ["Made", "On the shelf", "In boxes", "Left", "Came home", "Lost", "Counted"] as const;

/** Where the pieces of some lots are. Made, came home and counted on one side is the rest on the other. */
export function PiecesTable({ name, lots }: { readonly name: string; readonly lots: readonly TracedLot[] }) {
  if (lots.length === 0) return null;
  return (
    <>
      <h2>{name}</h2>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">Lot</th>
            {columns.map((column) => (
              <th key={column} scope="col" class="number">
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {lots.map((lot) => (
            <tr key={lot.id}>
              <th scope="row">
                <a href={`/trace/lots/${lot.id}`}>{lot.code}</a> {lot.product}
              </th>
              <CountCell label="Made" count={lot.made} />
              <CountCell label="On the shelf" count={lot.here} />
              <CountCell label="In boxes" count={lot.packed} />
              <CountCell label="Left" count={lot.shipped} />
              <CountCell label="Came home" count={lot.cameHome} />
              <CountCell label="Lost" count={lot.lost} />
              <td class={lot.counted === 0 ? "number none" : "number"} data-label="Counted">
                {lot.counted === 0 ? "·" : signedWords(lot.counted)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="aside">
        Made, come home and counted together are what is on the shelf (or still drying), in boxes, left and
        lost.
      </p>
    </>
  );
}
