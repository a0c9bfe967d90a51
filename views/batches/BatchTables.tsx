import type { Batch } from "../../server/batches/queries.ts";
import { clockWords } from "../format/dates.ts";
import { wholeWords } from "../format/quantities.ts";

interface TableProps {
  readonly batch: Batch;
  readonly timeZone: string;
}

/** When each bowl was begun, mixed and pressed, its sprays, and who; what is not known yet is left to the pen. */
export function BowlTimes({ batch, timeZone }: TableProps) {
  const clock = (at: Date | null | undefined) => (at ? clockWords(at, timeZone) : "");
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what can be pushed along must be reached by the keyboard too (WCAG 2.1.1)
    <section class="table-box" aria-label="Bowls" tabIndex={0}>
      <table class="batch-table">
        <caption>Bowls</caption>
        <thead>
          <tr>
            <th scope="col">Bowl</th>
            <th scope="col">Begun</th>
            <th scope="col">Mixed</th>
            <th scope="col">Pressed</th>
            <th scope="col">Sprays</th>
            <th scope="col">Who</th>
          </tr>
        </thead>
        <tbody>
          {Array.from({ length: batch.bowls }, (_, at) => at + 1).map((bowl) => {
            const begun = batch.begun.find((one) => one.bowl === bowl);
            const sprays = batch.sprays.find((one) => one.bowl === bowl)?.sprays;
            return (
              <tr key={bowl}>
                <th scope="row">{bowl}</th>
                <td>{clock(begun?.startedAt)}</td>
                <td>{clock(begun?.mixedAt)}</td>
                <td>{clock(begun?.pressedAt)}</td>
                <td>{sprays === undefined ? "" : wholeWords(sprays)}</td>
                <td>{begun?.by ?? ""}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

/** What was asked, pressed and lost of each lot. */
export function PressedPieces({ batch }: Pick<TableProps, "batch">) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what can be pushed along must be reached by the keyboard too (WCAG 2.1.1)
    <section class="table-box" aria-label="Pieces" tabIndex={0}>
      <table class="batch-table">
        <caption>Pieces</caption>
        <thead>
          <tr>
            <th scope="col">Lot</th>
            <th scope="col">Asked</th>
            <th scope="col">Pressed</th>
            <th scope="col">Cracked</th>
            <th scope="col">Stuck</th>
            <th scope="col">Swollen</th>
            <th scope="col">Samples</th>
          </tr>
        </thead>
        <tbody>
          {batch.lots.map(({ id, code, product, plannedUnits, state, ...lot }) => {
            // Nothing is counted before the pressing is recorded: zeros would say that nothing was lost.
            const counts = [lot.pressed, lot.cracked, lot.stuck, lot.swollen, lot.sample];
            const isRecorded = state !== "planned" && state !== "mixing";
            return (
              <tr key={id}>
                <th scope="row">
                  <a class="lot-code" href={`/shelf/${id}`}>
                    {code}
                  </a>
                  <span class="aside said">{product}</span>
                </th>
                <td>{wholeWords(plannedUnits)}</td>
                {["pressed", "cracked", "stuck", "swollen", "sample"].map((name, at) => (
                  <td key={name}>{isRecorded ? wholeWords(counts[at] ?? 0) : ""}</td>
                ))}
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}
