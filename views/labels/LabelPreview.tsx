import type { Line } from "../../server/labels/layout.ts";
import type { SheetSize } from "../../server/labels/sheet.ts";
import type { LabelRole } from "./labelWords.ts";

/** The label as it is printed, larger; its words stand where they stand on paper. */
export function LabelPreview({
  sheet,
  lines,
}: {
  readonly sheet: SheetSize;
  readonly lines: readonly Line<LabelRole>[];
}) {
  const width = sheet.labelWidthMicrometres / 1000;
  const height = sheet.labelHeightMicrometres / 1000;
  return (
    <figure class="label-preview">
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label="The label as it is printed">
        {sheet.isRound ? (
          <ellipse class="label" cx={width / 2} cy={height / 2} rx={width / 2} ry={height / 2} />
        ) : (
          <rect class="label" width={width} height={height} />
        )}
        {lines.map((line) => (
          <text
            key={`${line.role} ${line.baseline}`}
            class={line.weight}
            x={line.left / 1000}
            y={line.baseline / 1000}
            font-size={line.size / 1000}
            textLength={line.width / 1000}
          >
            {line.words}
          </text>
        ))}
      </svg>
      <figcaption class="aside">
        {width} × {height} mm on paper
      </figcaption>
    </figure>
  );
}
