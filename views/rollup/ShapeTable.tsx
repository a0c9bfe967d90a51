import type { ProductFacts } from "../../server/rollup/queries.ts";
import type { ShapeRollUp } from "../../server/rollup/rollUp.ts";
import { weightWords } from "../format/quantities.ts";
import { leftWords } from "./rollUpWords.ts";
import { SumCells, SumHeads } from "./SumCells.tsx";

/** All blends together, a row a shape: what the molds will have to hold. */
export function ShapeTable({
  shapes,
  products,
}: {
  readonly shapes: readonly ShapeRollUp[];
  readonly products: readonly ProductFacts[];
}) {
  const nameOf = (shapeId: number) => products.find((product) => product.shapeId === shapeId)?.shape;
  return (
    <section>
      <h2>By shape</h2>
      <table class="stack roll-up">
        <thead>
          <tr>
            <th scope="col">Shape</th>
            <SumHeads />
            <th scope="col" class="number">
              Mix to make
            </th>
            <th scope="col">Left over</th>
          </tr>
        </thead>
        <tbody>
          {shapes.map(({ shapeId, totals, milligrams, left }) => (
            <tr key={shapeId}>
              <th scope="row">{nameOf(shapeId)}</th>
              <SumCells sums={totals} />
              <td class="number" data-label="Mix to make">
                {weightWords(milligrams)}
              </td>
              <td data-label="Left over">{leftWords(left)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
