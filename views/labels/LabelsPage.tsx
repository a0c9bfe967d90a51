import type { ShelfLot } from "../../server/shelf/queries.ts";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { counted, pieces } from "../format/quantities.ts";

interface LabelsPageProps {
  readonly lots: readonly ShelfLot[];
  readonly products: readonly { readonly id: number; readonly name: string; readonly look: BlendLook }[];
}

/** Which lots want labels or cards; and products of which no lot is known. */
export function LabelsPage({ lots, products }: LabelsPageProps) {
  return (
    <>
      <p class="trail">
        <a href="/packing">Packing</a>
      </p>
      <h1>
        {lots.length === 0
          ? "No lot is drying or ready; labels can be printed for a product without one."
          : `${counted(lots.length, "lot")} to print labels and cards for.`}
      </h1>
      <ul class="plain-list narrow">
        {lots.map(({ id, code, product, look, units }) => (
          <li key={id} class="row">
            <span>
              <Swatch look={look} />
              <strong class="lot">{code}</strong> {product}, {pieces(units)}
            </span>
            <a class="button" href={`/labels/lots/${id}`} aria-label={`Labels of lot ${code}`}>
              Labels
            </a>
          </li>
        ))}
      </ul>
      <details>
        <summary>Without a lot</summary>
        <ul class="plain-list narrow">
          {products.map(({ id, name, look }) => (
            <li key={id} class="row">
              <span>
                <Swatch look={look} />
                {name}
              </span>
              <a class="button quiet" href={`/labels/products/${id}`} aria-label={`Labels of ${name}`}>
                Labels
              </a>
            </li>
          ))}
        </ul>
      </details>
    </>
  );
}
