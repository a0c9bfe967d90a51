import { BlendFill } from "../components/Swatch.tsx";
import { clockWords, shortDayWords } from "../format/dates.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { COLUMN, type ColumnPlaces } from "./boardPlaces.ts";
import type { BoardFigures } from "./planFigures.ts";

const HEIGHT = 62;

/** The board's head: the days, the sessions' beginnings, and the fills the bands are drawn with. */
export function BoardDays({
  columns,
  looks,
  places,
}: Pick<BoardFigures, "columns" | "looks"> & { readonly places: ColumnPlaces }) {
  const timeZone = usePageContext().workshop?.timeZone ?? "UTC";
  return (
    <svg width={places.width} height={HEIGHT} role="img" aria-label="Days and sessions">
      <defs>
        {looks.map(({ code, look }) => (
          <BlendFill key={code} id={fillOf(code)} look={look} />
        ))}
      </defs>
      {places.days.map(({ date, left, right }) => {
        const [weekday, ...rest] = shortDayWords(date).split(" ");
        return (
          <g key={date} class="day">
            <text x={(left + right) / 2} y={16} text-anchor="middle" class="weekday">
              {weekday}
            </text>
            <text x={(left + right) / 2} y={35} text-anchor="middle">
              {rest.join(" ")}
            </text>
            <line x1={left} x2={right} y1={41} y2={41} />
          </g>
        );
      })}
      {columns.map(({ startsAt }, index) => (
        <text
          key={startsAt.toISOString()}
          x={(places.lefts[index] ?? 0) + COLUMN / 2}
          y={57}
          text-anchor="middle"
          class="clock"
        >
          {clockWords(startsAt, timeZone)}
        </text>
      ))}
    </svg>
  );
}

/** The name of a blend's fill in the drawing; codes hold only letters, digits and hyphens. */
export function fillOf(blend: string): string {
  return `fill-${blend}`;
}
