import { Swatch } from "../components/Swatch.tsx";
import type { Paper, PaperCell, PaperShop } from "./paper.ts";

/** A paper as it comes out of the printer. */
export function PaperSheet({ paper }: { readonly paper: Paper }) {
  const { shop, to, facts, sums, notes, signatures } = paper;
  return (
    <article class="slip">
      <header class="slip-head">
        <Shop shop={shop} />
        <div>
          <h2 class="slip-name">
            {paper.name} <span class="nowrap">{paper.number}</span>
          </h2>
          <dl class="slip-facts">
            {facts.map(([name, words]) => (
              <>
                <dt>{name}</dt>
                <dd>{words}</dd>
              </>
            ))}
          </dl>
        </div>
      </header>
      <div class="slip-to">
        <p class="slip-label">{to.heading ?? "To"}</p>
        <p>
          <strong>{to.name}</strong>
        </p>
        <p class="as-typed">{to.address}</p>
      </div>
      {paper.rows.length > 0 && <Rows paper={paper} />}
      <table class="money-sums">
        <tbody>
          {sums.map(({ name, words, strong }) => (
            <tr key={name} class={strong ? "sum-strong" : undefined}>
              <th scope="row">{name}</th>
              <td class="number">{words}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {notes.map((words) => (
        <p key={words} class="slip-rest as-typed">
          {words}
        </p>
      ))}
      {signatures.length > 0 && (
        <div class="slip-foot">
          {signatures.map((words) => (
            <p key={words} class="signature">
              {words}
            </p>
          ))}
        </div>
      )}
      {shop.foot.length > 0 && (
        <footer class="slip-care">
          {shop.foot.map((words) => (
            <p key={words} class="as-typed">
              {words}
            </p>
          ))}
        </footer>
      )}
    </article>
  );
}

function Shop({ shop }: { readonly shop: PaperShop }) {
  return (
    <div>
      <p class="slip-shop">{shop.name}</p>
      {shop.address && <p class="as-typed">{shop.address}</p>}
      {shop.taxNumber && <p>{shop.taxNumber}</p>}
    </div>
  );
}

function Rows({ paper: { columns, rows } }: { readonly paper: Paper }) {
  return (
    <table class="stack slip-lines">
      <thead>
        <tr>
          {columns.map(({ name, number }) => (
            <th key={name} scope="col" class={number ? "number" : undefined}>
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ cells: [first, ...rest], look }, place) => (
          // Rows of a paper have no name of their own and never change places.
          <tr key={place}>
            <th scope="row">
              {look && <Swatch look={look} />}
              {first && <Words cell={first} />}
            </th>
            {rest.map((cell, column) => (
              <td
                key={columns[column + 1]?.name}
                data-label={columns[column + 1]?.name}
                class={columns[column + 1]?.number ? "number" : undefined}
              >
                <Words cell={cell} />
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Words({ cell: { words, aside, ticked } }: { readonly cell: PaperCell }) {
  return (
    <span class={ticked ? "as-typed" : undefined}>
      {ticked ? words.replaceAll(/^/gm, "□ ") : words}
      {aside && <span class="cell-aside aside">{aside}</span>}
    </span>
  );
}
