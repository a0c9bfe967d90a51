import { momentWords } from "../format/dates.ts";
import type { SupplyPageProps } from "./SupplyPage.tsx";
import { signedAmountWords, supplyAmountWords, supplyMoveWords } from "./supplyWords.ts";

/** Every move of a supply, newest first, who made it and what its lots had after it. */
export function SupplyLedger({ supply, ledger, timeZone }: SupplyPageProps) {
  return (
    <section>
      <h2>How it came to that</h2>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">What</th>
            <th scope="col">Lot</th>
            <th scope="col" class="number">
              How much
            </th>
            <th scope="col" class="number">
              Then on hand
            </th>
            <th scope="col">Who</th>
            <th scope="col">Note</th>
          </tr>
        </thead>
        <tbody>
          {ledger.map((move) => (
            <tr key={move.id}>
              <th scope="row">{momentWords(move.at, timeZone)}</th>
              <td>
                {move.runId === null ? (
                  supplyMoveWords(move)
                ) : (
                  <a href={`/supplies/runs/${move.runId}`}>{supplyMoveWords(move)}</a>
                )}
              </td>
              {move.lot === null ? (
                <td class="none">·</td>
              ) : (
                <td data-label="Lot">
                  <span class="lot-code">{move.lot}</span>
                </td>
              )}
              <td class="number" data-label="How much">
                {signedAmountWords(supply.kind, move.amount)}
              </td>
              <td class="number" data-label="Then on hand">
                {supplyAmountWords(supply.kind, move.after ?? 0)}
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
