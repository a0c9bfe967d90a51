import { CountCell } from "../components/CountCell.tsx";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { wholeWords } from "../format/quantities.ts";

export interface ShownLine {
  readonly id: number;
  readonly product: string;
  readonly look: BlendLook;
  readonly units: number;
  readonly packed: number;
  readonly shipped: number;
  /** The pieces in its box, by lot. */
  readonly lots: readonly { readonly lotId: number; readonly code: string; readonly units: number }[];
}

/** What is ordered and how far it is, line by line and in all. */
export function OrderLinesTable({ lines }: { readonly lines: readonly ShownLine[] }) {
  const sum = (of: (line: ShownLine) => number) => lines.reduce((total, line) => total + of(line), 0);
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Product</th>
          {["Ordered", "Packed", "Shipped", "Left to pack"].map((name) => (
            <th key={name} scope="col" class="number">
              {name}
            </th>
          ))}
          <th scope="col">Packed from</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.id}>
            <th scope="row">
              <Swatch look={line.look} />
              {line.product}
            </th>
            <Counts units={line.units} packed={line.packed} shipped={line.shipped} />
            <td data-label={line.lots.length > 0 ? "Packed from" : undefined}>
              <Lots lots={line.lots} />
            </td>
          </tr>
        ))}
      </tbody>
      {lines.length > 1 && (
        <tfoot>
          <tr>
            <th scope="row">In all</th>
            <Counts
              units={sum((line) => line.units)}
              packed={sum((line) => line.packed)}
              shipped={sum((line) => line.shipped)}
            />
            <td />
          </tr>
        </tfoot>
      )}
    </table>
  );
}

function Counts({ units, packed, shipped }: Pick<ShownLine, "units" | "packed" | "shipped">) {
  const counts = { Ordered: units, Packed: packed, Shipped: shipped, "Left to pack": units - packed };
  return (
    <>
      {Object.entries(counts).map(([name, count]) => (
        <CountCell key={name} label={name} count={count} />
      ))}
    </>
  );
}

function Lots({ lots }: Pick<ShownLine, "lots">) {
  return (
    <>
      {lots.map(({ lotId, code, units }, place) => (
        <span key={lotId}>
          {place > 0 && ", "}
          {wholeWords(units)} of <a href={`/shelf/${lotId}`}>{code}</a>
        </span>
      ))}
    </>
  );
}
