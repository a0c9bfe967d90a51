import { wholeWords } from "../format/quantities.ts";

/** A count in a table. Nothing is only a dot, and on a phone not there at all, so that what there is stands out. */
export function CountCell({ label, count }: { readonly label: string; readonly count: number }) {
  return (
    <td class={count === 0 ? "number none" : "number"} data-label={label}>
      {count === 0 ? "·" : wholeWords(count)}
    </td>
  );
}
