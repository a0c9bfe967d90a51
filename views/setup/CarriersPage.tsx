import type { CarrierRow } from "../../server/delivery/carrierQueries.ts";
import { counted } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import { SetupList } from "./SetupList.tsx";

/** Everybody who carries the shop's parcels. */
export function CarriersPage({ carriers }: { readonly carriers: readonly CarrierRow[] }) {
  const inUse = carriers.filter(({ retiredAt }) => retiredAt === null).length;
  return (
    <SetupList
      sentence={
        inUse === 0
          ? "There is no carrier yet: say who takes your parcels."
          : `Your parcels go with ${counted(inUse, "carrier")}.`
      }
      rows={carriers}
      noun="carrier"
      addHref="/setup/carriers/new"
      Table={CarriersTable}
    />
  );
}

function CarriersTable({ rows }: { readonly rows: readonly CarrierRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Carrier</th>
          <th scope="col">Services</th>
          <th scope="col">Parcels are followed</th>
          <th scope="col" class="number">
            Parcels so far
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.id}>
            <th scope="row">
              <a href={`/setup/carriers/${row.id}`}>{row.name}</a>
            </th>
            <td data-label="Services">{row.services.length === 0 ? "none named" : listed(row.services)}</td>
            <td data-label="Parcels are followed">
              {row.trackingPattern === "" ? "by their number only" : "by a link"}
            </td>
            <td data-label="Parcels so far" class="number">
              {row.parcels}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
