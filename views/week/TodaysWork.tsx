import type { DryingLot, OpenRun } from "../../server/week/weekFacts.ts";
import type { WeekNews } from "../../server/week/weekNews.ts";
import { StateMark } from "../components/StateMark.tsx";
import { Swatch } from "../components/Swatch.tsx";
import { clockWords, dayWords, momentWords } from "../format/dates.ts";
import { counted, pieces } from "../format/quantities.ts";

interface SectionProps {
  readonly news: WeekNews;
  readonly timeZone: string;
}

/** What is to be mixed today, and what was to be and was not. */
export function MixingSection({ news, timeZone }: SectionProps) {
  const { missedRuns, runsToday, nextRun } = news;
  if (missedRuns.length + runsToday.length === 0 && !nextRun) return null;
  return (
    <section>
      <h2>To mix today</h2>
      {runsToday.length === 0 && nextRun && (
        <p>
          Nothing. Next is {nextRun.blend.name} on {dayWords(nextRun.sessionDate)} at{" "}
          {clockWords(nextRun.startsAt, timeZone)}.
        </p>
      )}
      <ul class="plain-list">
        {missedRuns.map((run) => (
          <RunRow key={run.id} run={run} when={dayWords(run.sessionDate)} missed />
        ))}
        {runsToday.map((run) => (
          <RunRow
            key={run.id}
            run={run}
            when={`${clockWords(run.startsAt, timeZone)} to ${clockWords(run.endsAt, timeZone)}`}
          />
        ))}
      </ul>
      <p>
        <a href="/bench">To the bench</a>
      </p>
    </section>
  );
}

function RunRow({
  run,
  when,
  missed = false,
}: {
  readonly run: OpenRun;
  readonly when: string;
  readonly missed?: boolean;
}) {
  return (
    <li class="row">
      <span>
        <Swatch look={run.blend} />
        <strong>{run.blend.name}</strong> {when}
        <span class="aside said">
          {counted(run.bowls, "bowl")}, {pieces(run.units)}
        </span>
      </span>
      {missed && <StateMark words="not begun" urgent />}
      {run.state === "mixing" && <StateMark words="mixing" />}
    </li>
  );
}

/** Whose time in the mold or on the tray is over, and who is next. */
export function MoldsAndTraysSection({ news, timeZone }: SectionProps) {
  const { lotsDue, lotsLater } = news;
  if (lotsDue.length + lotsLater.length === 0) return null;
  return (
    <section>
      <h2>In molds and on trays</h2>
      <ul class="plain-list">
        {lotsDue.map((lot) => (
          <LotRow
            key={lot.id}
            lot={lot}
            words={lot.state === "drying" ? "may leave the mold" : "may be packed"}
            due
          />
        ))}
        {lotsLater.map((lot) => (
          <LotRow
            key={lot.id}
            lot={lot}
            words={`${lot.state === "drying" ? "in the mold" : "rests"} until ${momentWords(lot.dueAt, timeZone)}`}
          />
        ))}
      </ul>
    </section>
  );
}

function LotRow({
  lot,
  words,
  due = false,
}: {
  readonly lot: DryingLot;
  readonly words: string;
  readonly due?: boolean;
}) {
  return (
    <li class="row">
      <span>
        <Swatch look={lot.blend} />
        <a href={`/shelf/${lot.id}`}>{lot.code}</a> {pieces(lot.units)} {lot.product}
        <span class="aside said">{words}</span>
      </span>
      {due && <a href="/bench">{lot.state === "drying" ? "unmold" : "ready"}</a>}
    </li>
  );
}
