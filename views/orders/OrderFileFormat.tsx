const EXAMPLE = `order,customer,terms,ship_by,product,units,price
W-301,The Lamplit Otter,,2027-03-05,cedar-amber/ball-60,36,2.40
W-301,The Lamplit Otter,,2027-03-05,oat-lavender/ball-60,24,
M-012,"Quayside Saturday, north row",market,2027-03-06,black-tea/puck-45,60,`;

const columns: readonly (readonly [string, string])[] = [
  ["order", "Its reference. Lines with the same reference are one order."],
  ["customer", "A shop or market by its name, as under Setup. You are asked about names that are not there."],
  ["product", "By its code or its name; likewise."],
  ["units", "Pieces, a whole number."],
  ["ship_by", "A date, today or later. May be left out where needed_by is given."],
  ["needed_by", "The day the customer must have it; the days on the way are reckoned back from it."],
  ["terms", "complete, as-ready or market; blank for the customer's usual way."],
  [
    "price",
    "Of one piece, in the workshop's currency, with a decimal point or comma; blank for the list price.",
  ],
  ["their_number", "What the customer calls the order."],
  ["note", "Yours, for the whole order."],
];

/** What a file of orders looks like. */
export function OrderFileFormat() {
  return (
    <section>
      <h2>What the file looks like</h2>
      <p>
        UTF-8 with a header line and these columns in any order, separated by commas, semicolons or tabs. The
        first four and one of the dates are needed; the others may be missing. A file is taken whole or not at
        all; orders that were taken before are left as they are.
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
