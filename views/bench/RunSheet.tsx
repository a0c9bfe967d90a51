import type { ClockDay } from "../../server/bench/clockDay.ts";
import type { OpenRun } from "../../server/bench/queries.ts";
import { StateMark } from "../components/StateMark.tsx";
import { Swatch } from "../components/Swatch.tsx";
import { clockWords, dateOf, dayWords, momentWords } from "../format/dates.ts";
import { counted, weightWords, wholeWords } from "../format/quantities.ts";
import { BowlSteps } from "./BowlSteps.tsx";
import { TapForm } from "./TapForm.tsx";

interface SheetProps {
  readonly now: Date;
  readonly timeZone: string;
  /** Bowls that can be in use side by side. */
  readonly mixers: number;
  /** When each run stands in the timetable; one of a session that is over stands in none. */
  readonly times: ClockDay["runTimes"];
}

/** Runs of one part of the day, each on a sheet. */
export function RunSheets({
  title,
  runs,
  ...rest
}: SheetProps & { readonly title: string; readonly runs: readonly OpenRun[] }) {
  if (runs.length === 0) return null;
  return (
    <section>
      <h2>{title}</h2>
      <div class="sheets">
        {runs.map((run) => (
          <RunSheet key={run.id} run={run} {...rest} />
        ))}
      </div>
    </section>
  );
}

/** What is mixed next, and, folded away, what comes on the days after that. */
export function LaterRuns({ runs, ...sheets }: SheetProps & { readonly runs: readonly OpenRun[] }) {
  const { now, timeZone } = sheets;
  const [first] = runs;
  if (!first) return null;
  const day = first.sessionDate;
  const title = day === dateOf(now, timeZone) ? "To mix later today" : `To mix on ${dayWords(day)}`;
  const after = runs.filter((run) => run.sessionDate !== day);
  return (
    <>
      <RunSheets title={title} runs={runs.filter((run) => run.sessionDate === day)} {...sheets} />
      {after.length > 0 && (
        <details class="later-runs">
          <summary>{counted(after.length, "more run")} on the days after that</summary>
          <RunSheets title="To mix after that" runs={after} {...sheets} />
        </details>
      )}
    </>
  );
}

function RunSheet({ run, ...sheet }: SheetProps & { readonly run: OpenRun }) {
  return (
    <article class="sheet run">
      <h3 id={run.state === "planned" ? `put-back-${run.id}` : `start-${run.id}`} tabIndex={-1}>
        <Swatch look={run.look} />
        {run.look.name}
      </h3>
      <p class="run-amount">
        {counted(run.bowls, "bowl")}, {wholeGrams(run.milligrams)} of mix
        {run.bowls > 1 && `, ${wholeGrams(run.milligrams / run.bowls)} a bowl`}
      </p>
      <p class="actions">
        <a class="button quiet" href={recipeOfBowl(run)} aria-label={`Recipe for a bowl of ${run.look.name}`}>
          Recipe for a bowl
        </a>
        <a
          class="button quiet"
          href={`/bench/runs/${run.id}/sheet`}
          aria-label={`Batch sheet of ${run.look.name}`}
        >
          Batch sheet
        </a>
        <a
          class="button quiet"
          href={`/labels/runs/${run.id}/cards`}
          aria-label={`Tray cards of ${run.look.name}`}
        >
          Tray cards
        </a>
        {run.state === "mixing" && (
          <a
            class="button quiet"
            href={`/supplies/runs/${run.id}`}
            aria-label={`Lots ${run.look.name} was weighed from`}
          >
            Weighed from
          </a>
        )}
      </p>
      {run.takesBeyond && (
        <p class="notice">It took more than the ledger had. Go on; count what is left when there is time.</p>
      )}
      <RunTime run={run} {...sheet} />
      {run.state === "mixing" && <BowlSteps run={run} {...sheet} />}
      <LotsOfRun run={run} />
      <RunAction run={run} now={sheet.now} />
    </article>
  );
}

function RunTime({ run, now, timeZone, times }: SheetProps & { readonly run: OpenRun }) {
  if (run.startedAt) {
    const by = run.startedBy ? ` by ${run.startedBy}` : "";
    return (
      <p>
        Started {momentWords(run.startedAt, timeZone)}
        {by}
      </p>
    );
  }
  const laid = times.get(run.id);
  const end = clockWords(laid?.endsAt ?? run.sessionEndsAt, timeZone);
  return (
    <p>
      {momentWords(laid?.startsAt ?? run.sessionStartsAt, timeZone)} to {end}{" "}
      {run.sessionEndsAt <= now && <StateMark words="session is over" urgent />}
    </p>
  );
}

function LotsOfRun({ run }: { readonly run: OpenRun }) {
  return (
    <ul class="plain-list">
      {run.lots.map((lot) => (
        <li key={lot.id} class="row">
          <span>
            <a class="lot-code" href={`/shelf/${lot.id}`}>
              {lot.code}
            </a>{" "}
            {wholeWords(lot.plannedUnits)} × {lot.shape}
          </span>
          {lot.state === "mixing" && (
            <a
              class="button"
              href={`/bench/lots/${lot.id}/pressing`}
              aria-label={`Record what was pressed of ${lot.code}`}
            >
              Record
            </a>
          )}
          {run.state === "mixing" && lot.state !== "mixing" && <StateMark words="recorded" />}
        </li>
      ))}
    </ul>
  );
}

/** A start before its session is allowed but not urged; it can be taken back while nothing of the run is recorded. */
function RunAction({ run, now }: { readonly run: OpenRun; readonly now: Date }) {
  if (run.state === "planned") {
    const early = now < run.sessionStartsAt;
    const address = `/bench/runs/${run.id}/start`;
    return <TapForm action={address} words="Start mixing" quiet={early} id={`start-${run.id}`} />;
  }
  if (run.lots.some((lot) => lot.state !== "mixing")) return null;
  const address = `/bench/runs/${run.id}/put-back`;
  return <TapForm action={address} words="Not started after all" quiet id={`put-back-${run.id}`} />;
}

/** What one of the bowls is weighed from. */
function recipeOfBowl({ blendId, milligrams, bowls, recipeVersion }: OpenRun): string {
  const version = recipeVersion === null ? "" : `&version=${recipeVersion}`;
  return `/recipes/${blendId}?for=${Math.round(milligrams / bowls / 1000)}&unit=g&scale=1000${version}`;
}

/** A kitchen scale shows whole grams. */
function wholeGrams(milligrams: number): string {
  return weightWords(Math.round(milligrams / 1000) * 1000);
}
