import type { Sums } from "../../server/rollup/rollUp.ts";
import { wholeWords } from "../format/quantities.ts";

/** Column heads of the cells below. */
export function SumHeads() {
  return (
    <>
      {columns.map(({ label }) => (
        <th key={label} scope="col" class="number">
          {label}
        </th>
      ))}
    </>
  );
}

/** One line of the roll-up: on order, and where it comes from. */
export function SumCells({ sums }: { readonly sums: Sums }) {
  return (
    <>
      {columns.map(({ label, part }) => (
        <td key={label} class={sums[part] === 0 ? "number none" : "number"} data-label={label}>
          {wholeWords(sums[part])}
        </td>
      ))}
    </>
  );
}

const columns = [
  { label: "On order", part: "onOrder" },
  { label: "On the shelf", part: "fromShelf" },
  { label: "Drying", part: "fromDrying" },
  { label: "To make", part: "toMake" },
  { label: "Of these planned", part: "planned" },
] as const;
