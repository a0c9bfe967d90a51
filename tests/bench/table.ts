/** A table of words, as it stands in the results. */
export interface Table {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** The table in Markdown: the first column to the left, numbers to the right. */
export function toMarkdown({ head, rows }: Table): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  const sides = head.map((_, at) => (at === 0 ? "---" : "---:"));
  return [line(head), line(sides), ...rows.map(line)].join("\n");
}

/** The middle value; of an even number of values the worse of the two in the middle. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

export function toPlain(value: number | null): string {
  if (value === null || Number.isNaN(value)) return "-";
  return `${Math.round(value * 100) / 100}`;
}

export function toMilliseconds(seconds: number): string {
  const milliseconds = seconds * 1_000;
  if (Number.isNaN(milliseconds)) return "-";
  return milliseconds < 10 ? milliseconds.toFixed(1) : milliseconds.toFixed(0);
}

/** How far a value is above another one; where that is 0, by how much. */
export function toPercent(value: number, reference: number): string {
  if (Math.abs(value - reference) < 1e-6) return "0 %";
  if (reference === 0) return `+${toPlain(value)}`;
  const percent = (value / reference - 1) * 100;
  return `${percent > 0 ? "+" : ""}${percent.toFixed(1)} %`;
}
