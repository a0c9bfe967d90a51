import { Swatch } from "../components/Swatch.tsx";
import { BoardBand } from "./BoardBand.tsx";
import { BoardDays } from "./BoardDays.tsx";
import { BoardTable } from "./BoardTable.tsx";
import { columnPlaces } from "./boardPlaces.ts";
import type { BoardFigures } from "./planFigures.ts";

/**
 * The picture of a plan: time runs across, one column a session; each band's height is what is in use, its limit the
 * strong line. It scrolls inside its own box, the bands' titles standing still, and reads as a table below.
 */
export function DryingBoard({ board }: { readonly board: BoardFigures }) {
  const places = columnPlaces(board.columns);
  return (
    <section>
      <h2 id="board">The drying board</h2>
      <p>
        One column a session. The heavy line is the limit, the number above a column is what is in use. Touch
        a block to read what it is, whom it is for and when it frees its place.
      </p>
      <ul class="legend">
        {board.looks.map(({ code, look }) => (
          <li key={code}>
            <Swatch look={look} />
            {look.name}
          </li>
        ))}
      </ul>
      <section class="wide board-box" aria-label="Drying board, scrolls sideways" tabindex={0}>
        <BoardDays columns={board.columns} places={places} looks={board.looks} />
        {board.bands.map((band) => (
          <BoardBand key={`${band.kind} ${band.shape}`} band={band} blocks={board.blocks} places={places} />
        ))}
      </section>
      <details>
        <summary>The board as a table</summary>
        <BoardTable board={board} />
      </details>
    </section>
  );
}
