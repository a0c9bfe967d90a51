import { clockWords, shortDayWords } from "../format/dates.ts";
import { wholeWords } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";
import type { BandFigures, BoardFigures, StackFigures } from "./planFigures.ts";

/** The drying board in words and numbers: a row a session, a column a limit. */
export function BoardTable({ board }: { readonly board: BoardFigures }) {
  const timeZone = usePageContext().workshop?.timeZone ?? "UTC";
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Session</th>
          {board.bands.map((band) => (
            <th key={bandName(band)} scope="col">
              {bandName(band)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {board.columns.map(({ date, startsAt }, column) => (
          <tr key={startsAt.toISOString()}>
            <th scope="row">
              {shortDayWords(date)}, {clockWords(startsAt, timeZone)}
            </th>
            {board.bands.map((band) => (
              <td key={bandName(band)} data-label={bandName(band)}>
                <StackWords stack={band.stacks[column]} board={board} listed={band.kind !== "hands"} />
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function StackWords({
  stack,
  board,
  listed,
}: {
  readonly stack: StackFigures | undefined;
  readonly board: BoardFigures;
  readonly listed: boolean;
}) {
  if (stack === undefined) return null;
  const lying = board.blocks.filter((_, index) => (stack.amounts[index] ?? 0) > 0);
  return (
    <>
      <strong>
        {wholeWords(stack.used)} of {wholeWords(stack.limit)}
      </strong>
      {listed && lying.length > 0 && (
        <ul class="plain-list board-lots">
          {lying.map(({ anchor, words }) => (
            <li key={anchor}>
              <a href={`#${anchor}`}>{words}</a>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

function bandName({ kind, shape }: BandFigures): string {
  return { molds: `${shape} molds`, trays: "Trays", hands: "Hand minutes" }[kind];
}
