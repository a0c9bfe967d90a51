import type { PackagingKind } from "../../server/supplies/kinds.ts";
import { counted } from "../format/quantities.ts";
import { packagingWords } from "../supplies/supplyWords.ts";
import { SetupList } from "./SetupList.tsx";

interface PackagingRow {
  readonly id: number;
  readonly name: string;
  readonly kind: PackagingKind;
  /** Whose packing lists it stands on. */
  readonly products: number;
  readonly retiredAt: Date | null;
}

/** Everything that pieces are packed with. */
export function PackagingListPage({ packaging }: { readonly packaging: readonly PackagingRow[] }) {
  const inUse = packaging.filter(({ retiredAt }) => retiredAt === null).length;
  return (
    <SetupList
      sentence={
        inUse === 0
          ? "There is no packaging yet: add cups, bags, ties, labels, boxes."
          : `Pieces are packed with ${counted(inUse, "thing")}.`
      }
      rows={packaging}
      noun="packaging"
      addWords="Add packaging"
      addHref="/setup/packaging/new"
      Table={PackagingTable}
    />
  );
}

function PackagingTable({ rows }: { readonly rows: readonly PackagingRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Packaging</th>
          <th scope="col">Kind</th>
          <th scope="col" class="number">
            On packing lists
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.id}>
            <th scope="row">
              <a href={`/setup/packaging/${row.id}`}>{row.name}</a>
            </th>
            <td data-label="Kind">{packagingWords[row.kind]}</td>
            <td data-label="On packing lists" class="number">
              {row.products}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
