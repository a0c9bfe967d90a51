import type { SheetSize } from "../../server/labels/sheet.ts";

/** The sheet in small: where its labels lie, those used up already struck out. */
export function SheetDrawing({ sheet, first }: { readonly sheet: SheetSize; readonly first: number }) {
  const { paperWidthMicrometres: width, paperHeightMicrometres: height, columns, rows } = sheet;
  const places = Array.from({ length: columns * rows }, (_, label) => label);
  return (
    <svg
      class="sheet-drawing"
      viewBox={`0 0 ${width / 1000} ${height / 1000}`}
      role="img"
      aria-label={`${columns} labels across and ${rows} down, the first to print is number ${first}`}
    >
      <rect class="paper" width={width / 1000} height={height / 1000} />
      {places.map((label) => (
        <LabelOutline key={label} sheet={sheet} label={label} isUsed={label < first - 1} />
      ))}
    </svg>
  );
}

function LabelOutline({
  sheet,
  label,
  isUsed,
}: {
  readonly sheet: SheetSize;
  readonly label: number;
  readonly isUsed: boolean;
}) {
  const column = label % sheet.columns;
  const row = Math.floor(label / sheet.columns);
  const width = sheet.labelWidthMicrometres / 1000;
  const height = sheet.labelHeightMicrometres / 1000;
  const left = sheet.marginLeftMicrometres / 1000 + column * (width + sheet.gapAcrossMicrometres / 1000);
  const top = sheet.marginTopMicrometres / 1000 + row * (height + sheet.gapDownMicrometres / 1000);
  const drawn = isUsed ? "label used" : "label";
  if (sheet.isRound)
    return (
      <ellipse class={drawn} cx={left + width / 2} cy={top + height / 2} rx={width / 2} ry={height / 2} />
    );
  return <rect class={drawn} x={left} y={top} width={width} height={height} />;
}
