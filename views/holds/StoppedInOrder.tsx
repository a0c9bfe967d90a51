import type { StoppedPieces } from "../../server/holds/orderStops.ts";
import { pieces } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { stoppedWords } from "./stopWords.ts";

/** That lots in an order are on hold or recalled, above everything else: nothing at all where none is. */
export function StoppedInOrder({ stopped }: { readonly stopped: readonly StoppedPieces[] }) {
  const { person } = usePageContext();
  if (stopped.length === 0) return null;
  return (
    <div class="notice not-printed" role="status">
      {stopped.map(({ lotId, code, units, stop }) => (
        <p key={`${lotId} ${stop.since.getTime()}`}>
          <strong>{pieces(units)} of it must not be used.</strong> {stoppedWords(code, stop)}{" "}
          {stop.recallId !== null && person?.role === "owner" && (
            <a href={`/recalls/${stop.recallId}`}>Whom to tell</a>
          )}
        </p>
      ))}
    </div>
  );
}
