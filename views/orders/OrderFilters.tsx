import type { Lateness, OrderFilter } from "../../server/orders/filter.ts";
import { wholeWords } from "../format/quantities.ts";

interface Named {
  readonly id: number;
  readonly name: string;
}

export interface OrderFiltersProps {
  readonly states: readonly {
    readonly name: string;
    readonly href: string;
    readonly chosen: boolean;
  }[];
  readonly customers: readonly Named[];
  readonly blends: readonly Named[];
  readonly filter: OrderFilter;
  /** The state as the link says it; null for the usual one. */
  readonly state: string | null;
  /** The link to the list as it is when nothing is asked, and to this list as a file. */
  readonly plain: string;
  readonly file: string;
}

const lateWords: Readonly<Record<Lateness, string>> = {
  "date-gone-by": "not gone, its day is over",
  "by-plan": "late by the plan",
  "left-late": "packed after its day",
};

/** States as links, the rest as a form; all of it is kept in the address, so a view can be saved as a link. */
export function OrderFilters(props: OrderFiltersProps) {
  const { states, filter, state, plain } = props;
  const { words, customerId, blendId, from, to, lateness } = filter;
  const narrowed = [customerId, blendId, from, to, lateness].some((part) => part !== null);
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
      <form method="get" action="/orders">
        {state !== null && <input type="hidden" name="state" value={state} />}
        <div class="inline">
          <label for="order-words">Search</label>
          <input
            id="order-words"
            name="q"
            type="search"
            maxLength={100}
            value={words}
            placeholder="number, name, note, product"
          />
          <button type="submit" class="quiet">
            Show
          </button>
          {(narrowed || words !== "") && <a href={plain}>Show everything open</a>}
        </div>
        <details class="narrower" open={narrowed}>
          <summary>By customer, blend, date or lateness</summary>
          <Narrower {...props} />
        </details>
      </form>
      {(narrowed || words !== "") && (
        <p class="aside">
          This page's address is this view: keep it as a link to see it again as it is then.
        </p>
      )}
    </section>
  );
}

function Narrower({ customers, blends, filter }: OrderFiltersProps) {
  return (
    <div class="fields">
      <Choice
        name="customer"
        label="Customer"
        all={`everybody (${wholeWords(customers.length)})`}
        of={customers}
        chosen={filter.customerId}
      />
      <Choice
        name="blend"
        label="Blend"
        all={`any (${wholeWords(blends.length)})`}
        of={blends}
        chosen={filter.blendId}
      />
      <Day name="from" label="Ship by, from" value={filter.from} />
      <Day name="to" label="Ship by, up to" value={filter.to} />
      <div class="field">
        <label for="filter-lateness">Late</label>
        <select id="filter-lateness" name="lateness">
          <option value="">late or not</option>
          {(Object.keys(lateWords) as Lateness[]).map((lateness) => (
            <option key={lateness} value={lateness} selected={lateness === filter.lateness}>
              {lateWords[lateness]}
            </option>
          ))}
        </select>
      </div>
    </div>
  );
}

function Choice({
  name,
  label,
  all,
  of,
  chosen,
}: {
  readonly name: string;
  readonly label: string;
  readonly all: string;
  readonly of: readonly Named[];
  readonly chosen: number | null;
}) {
  return (
    <div class="field">
      <label for={`filter-${name}`}>{label}</label>
      <select id={`filter-${name}`} name={name}>
        <option value="">{all}</option>
        {of.map(({ id, name: words }) => (
          <option key={id} value={id} selected={id === chosen}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

function Day({
  name,
  label,
  value,
}: {
  readonly name: string;
  readonly label: string;
  readonly value: string | null;
}) {
  return (
    <div class="field">
      <label for={`filter-${name}`}>{label}</label>
      <input id={`filter-${name}`} name={name} type="date" value={value ?? ""} />
    </div>
  );
}
