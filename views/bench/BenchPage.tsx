import type { BenchDay } from "../../server/bench/benchDay.ts";
import type { LyingLot, OpenRun, ReadyLot } from "../../server/bench/queries.ts";
import { Swatch } from "../components/Swatch.tsx";
import { pieces } from "../format/quantities.ts";
import { benchSentence } from "./benchSentence.ts";
import { Cautions } from "./Cautions.tsx";
import { LotsInMold, LotsResting, LotsToFinish, LotsToUnmold } from "./LyingLots.tsx";
import { LaterRuns, RunSheets } from "./RunSheet.tsx";

interface BenchProps {
  readonly day: BenchDay<OpenRun, LyingLot>;
  /** What became ready today. */
  readonly ready: readonly ReadyLot[];
  readonly now: Date;
  readonly timeZone: string;
  /** What became of a tap that could not be carried out. */
  readonly notice?: string | undefined;
}

/** What to do right now, by the clock: at the bowl first, then at the trays. */
export function BenchPage({ day, ready, now, timeZone, notice }: BenchProps) {
  // Beside the bowl while something is mixed, else out of the way.
  const mixing = day.pressing.length + day.toMix.length > 0;
  return (
    <>
      <h1>{benchSentence(day, now, timeZone)}</h1>
      {notice && (
        <p class="notice" role="alert">
          {notice}
        </p>
      )}
      <RunSheets title="In the bowl, being pressed" runs={day.pressing} now={now} timeZone={timeZone} />
      <RunSheets title="To mix in this session" runs={day.toMix} now={now} timeZone={timeZone} />
      {mixing && <Cautions />}
      <LotsToUnmold lots={day.toUnmold} timeZone={timeZone} />
      <LotsToFinish lots={day.rested} timeZone={timeZone} />
      <LotsInMold lots={day.inMold} timeZone={timeZone} />
      <LotsResting lots={day.resting} timeZone={timeZone} />
      <ReadyToday lots={ready} />
      <LaterRuns runs={day.toMixLater} now={now} timeZone={timeZone} />
      {!mixing && <Cautions />}
    </>
  );
}

function ReadyToday({ lots }: { readonly lots: readonly ReadyLot[] }) {
  if (lots.length === 0) return null;
  return (
    <section>
      <h2>Ready today</h2>
      <ul class="plain-list">
        {lots.map((lot) => (
          <li key={lot.id} class="row">
            <span>
              <Swatch look={lot.look} />
              <a class="lot-code" href={`/shelf/${lot.id}`} id={`readiness-${lot.id}`}>
                {lot.code}
              </a>{" "}
              {lot.product}
            </span>
            <span>{pieces(lot.units)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
