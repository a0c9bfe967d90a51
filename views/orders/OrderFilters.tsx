import { wholeWords } from "../format/quantities.ts";

export interface OrderFiltersProps {
  readonly states: readonly {
    readonly name: string;
    readonly href: string;
    readonly chosen: boolean;
  }[];
  readonly customers: readonly { readonly id: number; readonly name: string }[];
  readonly customerId: number | null;
  /** The state as the link says it; null for the usual one. */
  readonly state: string | null;
}

/** States as links, customers as a list; both are kept in the address, so a view can be saved as a link. */
export function OrderFilters({ states, customers, customerId, state }: OrderFiltersProps) {
  return (
    <section class="order-filters" aria-label="Which orders">
      <ul class="chips push-row">
        {states.map(({ name, href, chosen }) => (
          <li key={name}>
            <a href={href} aria-current={chosen ? "true" : undefined}>
              {name}
            </a>
          </li>
        ))}
      </ul>
      <form method="get" action="/orders" class="inline">
        {state !== null && <input type="hidden" name="state" value={state} />}
        <label for="customer-filter">Customer</label>
        <select id="customer-filter" name="customer">
          <option value="">everybody ({wholeWords(customers.length)})</option>
          {customers.map(({ id, name }) => (
            <option key={id} value={id} selected={id === customerId}>
              {name}
            </option>
          ))}
        </select>
        <button type="submit" class="quiet">
          Show
        </button>
      </form>
    </section>
  );
}
