import type { StoppedPieces } from "../../server/holds/orderStops.ts";
import type { StoppedPackaging } from "../../server/holds/packagingStops.ts";
import { pieces } from "../format/quantities.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { stoppedPackagingWords, stoppedWords } from "./stopWords.ts";

/** That lots in an order are on hold or recalled, above everything else: nothing at all where none is. */
export function StoppedInOrder({
  stopped,
  packaging,
}: {
  readonly stopped: readonly StoppedPieces[];
  /** Recalled packaging around what has not left. */
  readonly packaging: readonly StoppedPackaging[];
}) {
  const { person } = usePageContext();
  if (stopped.length + packaging.length === 0) return null;
  const whomToTell = (recallId: number | null) =>
    recallId !== null && person?.role === "owner" && <a href={`/recalls/${recallId}`}>Whom to tell</a>;
  return (
    <div class="notice not-printed" role="status">
      {stopped.map(({ lotId, code, units, stop }) => (
        <p key={`${lotId} ${stop.since.getTime()}`}>
          <strong>{pieces(units)} of it must not be used.</strong> {stoppedWords(code, stop)}{" "}
          {whomToTell(stop.recallId)}
        </p>
      ))}
      {packaging.map((stop) => (
        <p key={`${stop.orderLineId} ${stop.recallId}`}>
          <strong>It may not leave like this.</strong> {stoppedPackagingWords(stop)} Take these pieces out of
          the box and pack them anew. {whomToTell(stop.recallId)}
        </p>
      ))}
    </div>
  );
}
