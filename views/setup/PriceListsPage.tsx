import { counted, wholeWords } from "../format/quantities.ts";
import { SetupList } from "./SetupList.tsx";

interface ListRow {
  readonly id: number;
  readonly name: string;
  readonly kind: "retail" | "wholesale";
  readonly includesTax: boolean;
  readonly usual: boolean;
  /** Products with a price today. */
  readonly priced: number;
  /** Customers who buy from it. */
  readonly customers: number;
  readonly retiredAt: Date | null;
}

export function PriceListsPage({ lists }: { readonly lists: readonly ListRow[] }) {
  return (
    <SetupList
      sentence={listsSentence(lists.filter(({ retiredAt }) => retiredAt === null))}
      rows={lists}
      noun="price list"
      addHref="/setup/prices/new"
      Table={ListsTable}
    />
  );
}

function listsSentence(lists: readonly ListRow[]): string {
  if (lists.length === 0) return "There is no price list yet: add one, and orders show what they come to.";
  const usual = lists.filter((list) => list.usual).map((list) => `${list.name} for ${kindOf(list)}`);
  return usual.length === 0
    ? `${counted(lists.length, "price list")}, none of them the usual one.`
    : `${counted(lists.length, "price list")}: usually ${usual.join(", and ")}.`;
}

function kindOf({ kind }: ListRow): string {
  return kind === "wholesale" ? "shops" : "markets";
}

function ListsTable({ rows }: { readonly rows: readonly ListRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">List</th>
          <th scope="col">Kind</th>
          <th scope="col">Tax</th>
          <th scope="col" class="number">
            Products
          </th>
          <th scope="col" class="number">
            Customers
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((list) => (
          <tr key={list.id}>
            <th scope="row">
              <a href={`/setup/prices/${list.id}`}>{list.name}</a>
            </th>
            <td data-label="Kind">
              {list.kind}
              {list.usual && ", the usual one"}
            </td>
            <td data-label="Tax">{list.includesTax ? "in the price" : "on top"}</td>
            <td data-label="Products" class="number">
              {wholeWords(list.priced)}
            </td>
            <td data-label="Customers" class="number">
              {wholeWords(list.customers)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
