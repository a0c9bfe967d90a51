import { counted, minutesWords, weightWords, wholeWords } from "../format/quantities.ts";
import { type DriesIn, dryingWords, placesWords } from "./dryingWords.ts";
import { SetupList } from "./SetupList.tsx";

interface ShapeRow {
  readonly id: number;
  readonly code: string;
  readonly name: string;
  readonly moldSets: number;
  readonly driesIn: DriesIn;
  readonly places: number | null;
  readonly moldMinutes: number;
  readonly restMinutes: number;
  readonly unitsPerTray: number;
  readonly pieceMilligrams: number;
  readonly products: number;
  readonly retiredAt: Date | null;
}

/** The forms the mix is pressed into, and what their molds hold. */
export function ShapesPage({ shapes }: { readonly shapes: readonly ShapeRow[] }) {
  return (
    <SetupList
      sentence={shapesSentence(shapes.filter((shape) => shape.retiredAt === null))}
      rows={shapes}
      noun="shape"
      addHref="/setup/shapes/new"
      Table={ShapesTable}
    />
  );
}

function shapesSentence(shapes: readonly ShapeRow[]): string {
  if (shapes.length === 0) return "There is no shape yet: add what you press the mix into.";
  const drying = shapes.reduce((sum, shape) => sum + (shape.places ?? 0), 0);
  return `${counted(shapes.length, "shape")}, whose molds hold ${counted(drying, "drying piece")} at once.`;
}

function ShapesTable({ rows }: { readonly rows: readonly ShapeRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Shape</th>
          <th scope="col">Dries</th>
          <th scope="col">Molds</th>
          <th scope="col">In the mold, then rest</th>
          <th scope="col" class="number">
            Piece
          </th>
          <th scope="col" class="number">
            On a tray
          </th>
          <th scope="col" class="number">
            Products
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((shape) => (
          <ShapeLine key={shape.id} shape={shape} />
        ))}
      </tbody>
    </table>
  );
}

function ShapeLine({ shape }: { readonly shape: ShapeRow }) {
  return (
    <tr>
      <th scope="row">
        <a href={`/setup/shapes/${shape.id}`}>{shape.name}</a> <span class="aside">{shape.code}</span>
      </th>
      <td data-label="Dries">{dryingWords[shape.driesIn]}</td>
      <td data-label="Molds">{placesWords(shape.moldSets, shape.places)}</td>
      <td data-label="In the mold, then rest">
        {minutesWords(shape.moldMinutes)}, then {minutesWords(shape.restMinutes)}
      </td>
      <td data-label="Piece" class="number">
        {weightWords(shape.pieceMilligrams)}
      </td>
      <td data-label="On a tray" class="number">
        {wholeWords(shape.unitsPerTray)}
      </td>
      <td data-label="Products" class="number">
        {wholeWords(shape.products)}
      </td>
    </tr>
  );
}
