import type { Sums } from "../../server/rollup/rollUp.ts";
import { CountCell } from "../components/CountCell.tsx";

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
        <CountCell key={label} label={label} count={sums[part]} />
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
