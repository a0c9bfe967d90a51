const EXAMPLE = `order,customer,terms,ship_by,product,units
W-301,The Lamplit Otter,,2027-03-05,cedar-amber/ball-60,36
W-301,The Lamplit Otter,,2027-03-05,oat-lavender/ball-60,24
M-012,"Quayside Saturday, north row",market,2027-03-06,black-tea/puck-45,60`;

const columns: readonly (readonly [string, string])[] = [
  ["order", "Its reference. Lines with the same reference are one order."],
  ["customer", "A shop or market by its name, as under Setup."],
  ["terms", "complete, as-ready or market; blank for the customer's usual way."],
  ["ship_by", "A date such as 2027-03-05, today or later."],
  ["product", "By its code or its name."],
  ["units", "Pieces, a whole number."],
];

/** What a file of orders looks like. */
export function OrderFileFormat() {
  return (
    <section>
      <h2>What the file looks like</h2>
      <p>
        Comma-separated in UTF-8, with a header line and these columns in any order. A file is taken whole or
        not at all; orders that were taken before are left as they are.
      </p>
      <dl class="columns">
        {columns.map(([name, words]) => (
          <div key={name}>
            <dt>
              <code>{name}</code>
            </dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      <pre class="example-file">{EXAMPLE}</pre>
    </section>
  );
}
