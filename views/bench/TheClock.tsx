import type { ClockDay, ClockLine } from "../../server/bench/clockDay.ts";
import type { OpenRun } from "../../server/bench/queries.ts";
import { Swatch } from "../components/Swatch.tsx";
import { clockWords, dateOf, dayWords } from "../format/dates.ts";
import { counted, pieces } from "../format/quantities.ts";
import { troubleWords } from "./clockWords.ts";
import { TimeLeft } from "./Timers.tsx";

/** A lot as a line of the day names it. */
export interface NamedLot {
  readonly code: string;
  readonly product: string;
  readonly driesIn: "half" | "whole" | "none";
  readonly look: OpenRun["look"];
}

interface ClockProps {
  readonly clock: ClockDay;
  readonly runs: ReadonlyMap<number, OpenRun>;
  readonly lots: ReadonlyMap<number, NamedLot>;
  readonly now: Date;
  readonly timeZone: string;
}

/** Lines of the day that stand open; the rest of a long day is folded away. */
const MOST_OPEN = 8;

/** What comes next and after that, with its clock times, and what does not fit. */
export function TheClock(props: ClockProps) {
  const { clock, lots, now, timeZone } = props;
  const [next, ...later] = clock.lines;
  const isToday = clock.date === dateOf(now, timeZone);
  const codes = new Map([...lots].map(([lotId, { code }]) => [lotId, code]));
  const day = clock.date === null || isToday ? "" : ` on ${dayWords(clock.date)}`;
  return (
    <>
      {clock.troubles.map((trouble) => (
        <p class="notice" key={`${trouble.trouble.kind}-${trouble.sessionStartsAt.getTime()}`}>
          {troubleWords(trouble, codes, timeZone)}
        </p>
      ))}
      {next && (
        <section class="clock">
          <h2>{`Next${day}`}</h2>
          <ol class="clock-lines next">
            <Line line={next} {...props} isNext />
          </ol>
        </section>
      )}
      {later.length > 0 && (
        <section class="clock">
          <h2>{isToday ? "Later today" : "After that"}</h2>
          <Lines lines={later.slice(0, MOST_OPEN)} {...props} />
          {later.length > MOST_OPEN && (
            <details>
              <summary>{counted(later.length - MOST_OPEN, "more line")} of that day</summary>
              <Lines lines={later.slice(MOST_OPEN)} {...props} />
            </details>
          )}
        </section>
      )}
    </>
  );
}

function Lines({ lines, ...props }: ClockProps & { readonly lines: readonly ClockLine[] }) {
  return (
    <ol class="clock-lines">
      {lines.map((line) => (
        <Line key={`${line.kind}-${line.startsAt.getTime()}-${keyOf(line)}`} line={line} {...props} />
      ))}
    </ol>
  );
}

function Line({
  line,
  runs,
  lots,
  now,
  timeZone,
  isNext = false,
}: ClockProps & { readonly line: ClockLine; readonly isNext?: boolean }) {
  const look = "runId" in line ? runs.get(line.runId)?.look : lots.get(line.lotId)?.look;
  return (
    <li>
      <time class="clock-time" dateTime={line.startsAt.toISOString()}>
        {clockWords(line.startsAt, timeZone)}
      </time>
      <span>
        {look && <Swatch look={look} />}
        <strong>{lineWords(line, runs, lots)}</strong>
        <span class="aside said">{detailWords(line, timeZone)}</span>
        {isNext && <TimeLeft until={line.startsAt} now={now} />}
      </span>
    </li>
  );
}

function keyOf(line: ClockLine): string {
  return "runId" in line ? `run-${line.runId}` : `lot-${line.lotId}`;
}

function lineWords(line: ClockLine, runs: ClockProps["runs"], lots: ClockProps["lots"]): string {
  if ("runId" in line) {
    const run = runs.get(line.runId);
    const name = run?.look.name ?? "a blend";
    if (line.kind === "clean") return `Clean down after ${name}`;
    const which = run && run.bowls > 1 ? `, bowl ${line.bowl} of ${run.bowls}` : "";
    return `Weigh out and mix ${name}${which}`;
  }
  const lot = lots.get(line.lotId);
  const what = `${pieces(line.units)} ${lot?.product ?? ""}, lot ${lot?.code ?? ""}`;
  switch (line.kind) {
    case "turn":
      return `Turn ${what}`;
    case "unmold":
      return `${lot?.driesIn === "none" ? "Lift" : "Unmold"} ${what}`;
    case "pack":
      return `Finish and pack ${what}`;
  }
}

function detailWords(line: ClockLine, timeZone: string): string {
  const until = `until ${clockWords(line.endsAt, timeZone)}`;
  if (line.kind !== "bowl") return until;
  const mix = `mix ${clockWords(line.mixAt, timeZone)}`;
  if (line.pressAt === null) return `${mix}, ${until}`;
  return `${mix}, press ${pieces(line.units)} ${clockWords(line.pressAt, timeZone)}, ${until}`;
}
