import type { ProductFacts } from "../../server/rollup/queries.ts";
import type { BlendRollUp } from "../../server/rollup/rollUp.ts";
import { Swatch } from "../components/Swatch.tsx";
import { shortDayWords } from "../format/dates.ts";
import { equation, leftWords, mixWords } from "./rollUpWords.ts";
import { SumCells, SumHeads } from "./SumCells.tsx";

/** One blend: what is mixed together whatever its shape, by shape and ship-by date. */
export function BlendSheet({
  blend,
  products,
}: {
  readonly blend: BlendRollUp;
  readonly products: readonly ProductFacts[];
}) {
  const [first] = products;
  if (!first) return null;
  return (
    <section>
      <h2>
        <Swatch look={first.look} />
        {first.look.name}
      </h2>
      <p>
        {blend.totals.onOrder > 0 ? `${equation(blend.totals)}. ` : "Nothing on order. "}
        {blend.milligrams > 0 && `Making them takes ${mixWords(blend.milligrams, blend.bowls)}. `}
        Left over: {leftWords(blend.left)}.
      </p>
      {blend.rows.length > 0 && <DateTable blend={blend} products={products} />}
    </section>
  );
}

function DateTable({
  blend,
  products,
}: {
  readonly blend: BlendRollUp;
  readonly products: readonly ProductFacts[];
}) {
  const shapeOf = (productId: number) => products.find((known) => known.productId === productId)?.shape;
  return (
    <table class="stack roll-up">
      <thead>
        <tr>
          <th scope="col">Shape, ship by</th>
          <SumHeads />
        </tr>
      </thead>
      <tbody>
        {blend.rows.map((row) => (
          <tr key={`${row.productId} ${row.shipBy}`}>
            <th scope="row">
              {shapeOf(row.productId)}, {shortDayWords(row.shipBy)}
            </th>
            <SumCells sums={row} />
          </tr>
        ))}
      </tbody>
      {blend.rows.length > 1 && (
        <tfoot>
          <tr>
            <th scope="row">Together</th>
            <SumCells sums={blend.totals} />
          </tr>
        </tfoot>
      )}
    </table>
  );
}
