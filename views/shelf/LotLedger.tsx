import type { LedgerMove } from "../../server/shelf/queries.ts";
import { momentWords } from "../format/dates.ts";
import { signedWords, wholeWords } from "../format/quantities.ts";
import { moveWords } from "./shelfWords.ts";

/** Every move of a lot, newest first, who made it and what there was after it. */
export function LotLedger({
  ledger,
  timeZone,
}: {
  readonly ledger: readonly LedgerMove[];
  readonly timeZone: string;
}) {
  return (
    <section>
      <h2>How it came to that</h2>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">What</th>
            <th scope="col" class="number">
              Pieces
            </th>
            <th scope="col" class="number">
              Then there
            </th>
            <th scope="col">Who</th>
            <th scope="col">Note</th>
          </tr>
        </thead>
        <tbody>
          {ledger.map((move) => (
            <tr key={move.id}>
              <th scope="row">{momentWords(move.at, timeZone)}</th>
              <td>{moveWords(move)}</td>
              <td class="number" data-label="Pieces">
                {signedWords(move.units)}
              </td>
              <td class="number" data-label="Then there">
                {wholeWords(move.after)}
              </td>
              <td data-label="Who">{move.person ?? "nobody was noted"}</td>
              {move.note === "" ? <td /> : <td data-label="Note">{move.note}</td>}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
