import { counted, plainNumber } from "../format/quantities.ts";
import { SetupList } from "./SetupList.tsx";

interface CustomerRow {
  readonly id: number;
  readonly name: string;
  readonly kind: "shop" | "market";
  readonly takesPartDeliveries: boolean;
  readonly priorityWeight: number;
  /** The first contact: name and telephone, as far as they are known. */
  readonly contact: string;
  readonly retiredAt: Date | null;
}

interface CustomersPageProps {
  readonly counts: { readonly shops: number; readonly markets: number; readonly retired: number };
  /** Those found, at most as many as one page shows. */
  readonly customers: readonly CustomerRow[];
  /** Whether there are more than shown. */
  readonly more: boolean;
  /** What was looked for; empty for everybody. */
  readonly search: string;
}

/** From so many customers on, a name is looked for sooner than found by eye. */
const MANY = 12;

export function CustomersPage({ counts, customers, more, search }: CustomersPageProps) {
  const all = counts.shops + counts.markets + counts.retired;
  return (
    <SetupList
      sentence={customersSentence(counts)}
      rows={customers}
      noun="customer"
      addHref="/setup/customers/new"
      Table={CustomersTable}
      showRetired={search !== ""}
    >
      {(all > MANY || search !== "") && <Search search={search} />}
      {search !== "" && <p>{foundSentence(customers.length, search)}</p>}
      {more && (
        <p class="aside">
          The first {customers.length} are shown: look for a part of the name to find the others.
        </p>
      )}
    </SetupList>
  );
}

function customersSentence({ shops, markets }: CustomersPageProps["counts"]): string {
  if (shops + markets === 0) return "There is no customer yet: add the shops and markets you make for.";
  return `${counted(shops, "shop")} and ${counted(markets, "market")} to make for.`;
}

function foundSentence(found: number, search: string): string {
  return found === 0
    ? `Nobody's name has “${search}” in it.`
    : `${counted(found, "name")} with “${search}” in it.`;
}

/** A plain look-up: the address says what was looked for. */
function Search({ search }: { readonly search: string }) {
  return (
    <search>
      <form method="get" action="/setup/customers" class="inline">
        <label for="q">Part of a name</label>
        <input id="q" name="q" type="search" value={search} maxLength={120} />
        <button type="submit" class="quiet">
          Look
        </button>
        {search !== "" && <a href="/setup/customers">Everybody</a>}
      </form>
    </search>
  );
}

function CustomersTable({ rows }: { readonly rows: readonly CustomerRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Name</th>
          <th scope="col">Kind</th>
          <th scope="col">Takes</th>
          <th scope="col" class="number">
            Weight
          </th>
          <th scope="col">Contact</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((customer) => (
          <tr key={customer.id}>
            <th scope="row">
              <a href={`/setup/customers/${customer.id}`}>{customer.name}</a>
            </th>
            <td data-label="Kind">{customer.kind}</td>
            <td data-label="Takes">{takesWords(customer)}</td>
            <td data-label="Weight" class="number">
              {plainNumber(customer.priorityWeight)}
            </td>
            <td data-label="Contact">{customer.contact || "–"}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function takesWords({ kind, takesPartDeliveries }: CustomerRow): string {
  if (kind === "market") return "what is ready on the day";
  return takesPartDeliveries ? "part deliveries" : "one whole delivery";
}
