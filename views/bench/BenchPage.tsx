import type { BenchDay } from "../../server/bench/benchDay.ts";
import type { ClockDay } from "../../server/bench/clockDay.ts";
import type { LyingLot, OpenRun, ReadyLot } from "../../server/bench/queries.ts";
import { PageNews } from "../components/PageNews.tsx";
import { Swatch } from "../components/Swatch.tsx";
import { clockWords } from "../format/dates.ts";
import { pieces } from "../format/quantities.ts";
import { benchSentence } from "./benchSentence.ts";
import { Cautions } from "./Cautions.tsx";
import { LotsInMold, LotsResting, LotsToFinish, LotsToTurn, LotsToUnmold } from "./LyingLots.tsx";
import { LaterRuns, RunSheets } from "./RunSheet.tsx";
import { type NamedLot, TheClock } from "./TheClock.tsx";
import { PageClock } from "./Timers.tsx";

interface BenchProps {
  readonly day: BenchDay<OpenRun, LyingLot>;
  /** What became ready today. */
  readonly ready: readonly ReadyLot[];
  /** What comes next, by the timetable of the plan that is followed. */
  readonly clock: ClockDay;
  /** Bowls that can be in use side by side. */
  readonly mixers: number;
  readonly now: Date;
  readonly timeZone: string;
  /** What became of a tap that could not be carried out. */
  readonly notice?: string | undefined;
}

/** What to do right now, by the clock: at the bowl first, then at the trays. */
export function BenchPage({ day, ready, clock, mixers, now, timeZone, notice }: BenchProps) {
  const sheets = { now, timeZone, mixers, times: clock.runTimes };
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
      <NowClock now={now} timeZone={timeZone} />
      <RunSheets title="In the bowl, being pressed" runs={day.pressing} {...sheets} />
      <LotsToTurn lots={day.toTurn} now={now} timeZone={timeZone} />
      <RunSheets title="To mix in this session" runs={day.toMix} {...sheets} />
      {mixing && <Cautions />}
      <LotsToUnmold lots={day.toUnmold} timeZone={timeZone} />
      <LotsToFinish lots={day.rested} timeZone={timeZone} />
      <TheClock clock={clock} now={now} timeZone={timeZone} {...namedIn(day)} />
      <LotsInMold lots={day.inMold} timeZone={timeZone} />
      <LotsResting lots={day.resting} timeZone={timeZone} />
      <ReadyToday lots={ready} />
      <LaterRuns runs={day.toMixLater} {...sheets} />
      {!mixing && <Cautions />}
      <p>
        <a href="/bench/air">Today's air, and what it means for drying</a>
      </p>
      <PageNews channel="bench" address="/bench" />
    </>
  );
}

/** The clock on the wall, as it stood when the page was made or renewed. */
function NowClock({ now, timeZone }: { readonly now: Date; readonly timeZone: string }) {
  return (
    <p class="clock-now">
      <span class="aside">Now</span>{" "}
      <time class="clock-time" dateTime={now.toISOString()}>
        {clockWords(now, timeZone)}
      </time>
      <PageClock now={now} />
    </p>
  );
}

/** Runs and lots by their numbers, as the lines of the day name them. */
function namedIn(day: BenchDay<OpenRun, LyingLot>) {
  const runs = [...day.pressing, ...day.toMix, ...day.toMixLater];
  const lying = [...day.toTurn, ...day.toUnmold, ...day.inMold, ...day.rested, ...day.resting];
  const lots: readonly (readonly [number, NamedLot])[] = [
    ...runs.flatMap((run) => run.lots.map(({ id, ...lot }) => [id, { ...lot, look: run.look }] as const)),
    ...lying.map(({ id, ...lot }) => [id, lot] as const),
  ];
  return { runs: new Map(runs.map((run) => [run.id, run])), lots: new Map(lots) };
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
