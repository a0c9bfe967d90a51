import type { StoppedShelfLot } from "../../server/holds/queries.ts";
import { StateMark } from "../components/StateMark.tsx";
import { Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { pieces } from "../format/quantities.ts";
import { stopMark, stopReasonWords } from "./stopWords.ts";

/** What is here and must not be packed, each with its reason: nothing at all where there is no such lot. */
export function StoppedLots({
  lots,
  timeZone,
}: {
  readonly lots: readonly StoppedShelfLot[];
  readonly timeZone: string;
}) {
  if (lots.length === 0) return null;
  return (
    <section class="stopped-lots">
      <h2>Not to be packed</h2>
      <p class="aside">
        These pieces count for no order, no promise and no plan until the owner lets them go.
      </p>
      <ul class="plain-list">
        {lots.map((lot) => (
          <li key={lot.id}>
            <span class="row">
              <span>
                <Swatch look={lot.look} />
                <a class="lot-code" href={`/shelf/${lot.id}`}>
                  {lot.code}
                </a>{" "}
                {lot.product}
              </span>
              <strong>{pieces(lot.units)}</strong>
            </span>
            <StopReasons lot={lot} timeZone={timeZone} />
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The marks of a lot with their reasons, and the boxes its pieces have to come out of. */
export function StopReasons({
  lot: { stops, boxed },
  timeZone,
}: {
  readonly lot: Pick<StoppedShelfLot, "stops"> & { readonly boxed?: StoppedShelfLot["boxed"] };
  readonly timeZone: string;
}) {
  return (
    <>
      {stops.map((stop) => (
        <span key={`${stop.kind} ${stop.since.getTime()}`} class="under">
          <StateMark words={stopMark(stop.kind)} urgent /> {stopReasonWords(stop, timeZone)}
        </span>
      ))}
      {(boxed ?? []).map(({ reference, units }) => (
        <span key={reference} class="under">
          Take {pieces(units)} out of the box for <Unbroken words={reference} />.
        </span>
      ))}
    </>
  );
}
