import { counted, plainNumber } from "../format/quantities.ts";
import { SetupTrail } from "./SetupTrail.tsx";

interface CustomerRow {
  readonly id: number;
  readonly name: string;
  readonly kind: "shop" | "market";
  readonly takesPartDeliveries: boolean;
  readonly priorityWeight: number;
  readonly contactName: string;
  readonly phone: string;
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
  const inUse = customers.filter((customer) => customer.retiredAt === null);
  const retired = customers.filter((customer) => customer.retiredAt !== null);
  const all = counts.shops + counts.markets + counts.retired;
  return (
    <>
      <SetupTrail />
      <h1>{customersSentence(counts)}</h1>
      <p class="actions">
        <a class="button" href="/setup/customers/new">
          Add a customer
        </a>
      </p>
      {(all > MANY || search !== "") && <Search search={search} />}
      {search !== "" && <p>{foundSentence(customers.length, search)}</p>}
      {inUse.length > 0 && <CustomersTable customers={inUse} />}
      {retired.length > 0 && (
        <details open={search !== ""}>
          <summary>{counted(retired.length, "retired customer")}</summary>
          <CustomersTable customers={retired} />
        </details>
      )}
      {more && <p class="aside">More than {customers.length} match: look for a part of the name.</p>}
    </>
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

function CustomersTable({ customers }: { readonly customers: readonly CustomerRow[] }) {
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
        {customers.map((customer) => (
          <tr key={customer.id}>
            <th scope="row">
              <a href={`/setup/customers/${customer.id}`}>{customer.name}</a>
            </th>
            <td data-label="Kind">{customer.kind}</td>
            <td data-label="Takes">{takesWords(customer)}</td>
            <td data-label="Weight" class="number">
              {plainNumber(customer.priorityWeight)}
            </td>
            <td data-label="Contact">
              {[customer.contactName, customer.phone].filter((part) => part !== "").join(", ") || "–"}
            </td>
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
