interface TracePageProps {
  readonly words: string;
  /** Null before anything was asked for. */
  readonly found: {
    readonly supplyLots: readonly {
      readonly id: number;
      readonly code: string;
      readonly supply: string;
      readonly supplierLot: string;
    }[];
    readonly lots: readonly { readonly id: number; readonly code: string; readonly product: string }[];
    readonly orders: readonly {
      readonly id: number;
      readonly reference: string;
      readonly customer: string;
    }[];
  } | null;
}

/** The way in: a code or a number, and what it may be of. */
export function TracePage({ words, found }: TracePageProps) {
  return (
    <>
      <p class="trail">
        <a href="/supplies">Supplies</a>
      </p>
      <h1>Which lot, or which order, do you want to follow?</h1>
      <form method="get" action="/trace" class="inline">
        <label for="trace-words">Code or number</label>
        <input
          id="trace-words"
          name="q"
          type="search"
          maxLength={80}
          value={words}
          placeholder="lot, supplier's lot, supply, order"
        />
        <button type="submit">Look</button>
      </form>
      <p>
        <a href="/recalls">Recalls</a>
      </p>
      {found && <Found found={found} />}
    </>
  );
}

function Found({ found }: { readonly found: NonNullable<TracePageProps["found"]> }) {
  const rows = [
    ...found.supplyLots.map(({ id, code, supply, supplierLot }) => ({
      ...{ href: `/trace/supply-lots/${id}`, code },
      words: supplierLot === "" ? supply : `${supply}, its supplier's ${supplierLot}`,
    })),
    ...found.lots.map(({ id, code, product }) => ({
      ...{ href: `/trace/lots/${id}`, code, words: product },
    })),
    ...found.orders.map(({ id, reference, customer }) => ({
      ...{ href: `/trace/orders/${id}`, code: reference, words: customer },
    })),
  ];
  if (rows.length === 0) return <p>Nothing has that in its code, number or name.</p>;
  return (
    <ul class="plain-list">
      {rows.map(({ href, code, words }) => (
        <li key={href} class="row">
          <a class="order-link" href={href}>
            {code}
          </a>
          <span class="room-facts">{words}</span>
        </li>
      ))}
    </ul>
  );
}
