import type { BoxSizeRow } from "../../server/packing/boxSizeQueries.ts";
import { counted, pieces, weightWords } from "../format/quantities.ts";
import { SetupList } from "./SetupList.tsx";

/** The sizes of box that orders leave in. */
export function BoxSizesPage({ sizes }: { readonly sizes: readonly BoxSizeRow[] }) {
  const inUse = sizes.filter(({ retiredAt }) => retiredAt === null).length;
  return (
    <SetupList
      sentence={
        inUse === 0
          ? "There is no box yet: say what you send orders in, and boxes are suggested at the packing table."
          : `Orders leave in ${counted(inUse, "size")} of box.`
      }
      rows={sizes}
      noun="box"
      addHref="/setup/boxes/new"
      Table={BoxSizesTable}
    />
  );
}

function BoxSizesTable({ rows }: { readonly rows: readonly BoxSizeRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Box</th>
          <th scope="col" class="number">
            Empty
          </th>
          <th scope="col">Inside</th>
          <th scope="col">Filled by</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.id}>
            <th scope="row">
              <a href={`/setup/boxes/${row.id}`}>{row.name}</a>
            </th>
            <td data-label="Empty" class="number">
              {weightWords(row.tareMilligrams)}
            </td>
            <td data-label="Inside">{insideWords(row)}</td>
            <td data-label="Filled by">
              {row.holds.length === 0
                ? "nobody said yet"
                : row.holds.map(({ shape, units }) => `${pieces(units)} of ${shape}`).join(", or ")}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function insideWords({ innerLengthMm, innerWidthMm, innerHeightMm }: BoxSizeRow): string {
  return innerLengthMm === null ? "not measured" : `${innerLengthMm} × ${innerWidthMm} × ${innerHeightMm} mm`;
}
