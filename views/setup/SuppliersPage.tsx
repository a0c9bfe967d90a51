import type { SupplierRow } from "../../server/supplies/supplierQueries.ts";
import { weekdayWords } from "../format/dates.ts";
import { counted } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import { SetupList } from "./SetupList.tsx";

/** Everybody from whom the workshop buys. */
export function SuppliersPage({ suppliers }: { readonly suppliers: readonly SupplierRow[] }) {
  const inUse = suppliers.filter(({ retiredAt }) => retiredAt === null).length;
  return (
    <SetupList
      sentence={
        inUse === 0
          ? "There is no supplier yet: say who sells you what."
          : `You buy from ${counted(inUse, "supplier")}.`
      }
      rows={suppliers}
      noun="supplier"
      addHref="/setup/suppliers/new"
      Table={SuppliersTable}
    />
  );
}

function SuppliersTable({ rows }: { readonly rows: readonly SupplierRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Supplier</th>
          <th scope="col">Takes</th>
          <th scope="col">Ordered on</th>
          <th scope="col" class="number">
            Supplies
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.id}>
            <th scope="row">
              <a href={`/setup/suppliers/${row.id}`}>{row.name}</a>
            </th>
            <td data-label="Takes">{counted(row.deliveryDays, "day")}</td>
            <td data-label="Ordered on">
              {row.orderWeekdays.length === 0 ? "any day" : listed(row.orderWeekdays.map(weekdayWords))}
            </td>
            <td data-label="Supplies" class="number">
              {row.supplies}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
