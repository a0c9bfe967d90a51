import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { counted, plainNumber, wholeWords } from "../format/quantities.ts";
import { SetupList } from "./SetupList.tsx";

interface BlendRow extends BlendLook {
  readonly id: number;
  readonly code: string;
  readonly shade: number;
  readonly products: number;
  readonly retiredAt: Date | null;
}

/** Every scent in its colour, lightest first: the order in which they are mixed in a session. */
export function BlendsPage({ blends }: { readonly blends: readonly BlendRow[] }) {
  return (
    <SetupList
      sentence={blendsSentence(blends.filter((blend) => blend.retiredAt === null))}
      rows={blends}
      noun="blend"
      addHref="/setup/blends/new"
      Table={BlendsTable}
    />
  );
}

function blendsSentence(blends: readonly BlendRow[]): string {
  const [lightest] = blends;
  const darkest = blends.at(-1);
  if (!lightest || !darkest) return "There is no blend yet: add a scent in its colour.";
  if (blends.length === 1) return `1 blend: ${lightest.name}.`;
  return `${counted(blends.length, "blend")}, from ${lightest.name}, the lightest, to ${darkest.name}.`;
}

function BlendsTable({ rows }: { readonly rows: readonly BlendRow[] }) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Blend, lightest first</th>
          <th scope="col">Short code</th>
          <th scope="col" class="number">
            Shade
          </th>
          <th scope="col" class="number">
            Products
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((blend) => (
          <tr key={blend.id}>
            <th scope="row">
              <Swatch look={blend} />
              <a href={`/setup/blends/${blend.id}`}>{blend.name}</a>
            </th>
            <td data-label="Short code">{blend.code}</td>
            <td data-label="Shade" class="number">
              {plainNumber(blend.shade)}
            </td>
            <td data-label="Products" class="number">
              {wholeWords(blend.products)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
