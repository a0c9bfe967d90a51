import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { dayWords, minuteOfDayWords, weekdayWords } from "../format/dates.ts";
import { counted, minutesWords, plainNumber } from "../format/quantities.ts";
import { NextPlan } from "./NextPlan.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

export interface SessionRow {
  readonly id: number;
  readonly weekday: number;
  readonly startsMinute: number;
  readonly endsMinute: number;
  readonly handMinutes: number;
  readonly mixing: boolean;
}

interface ExceptionRow {
  readonly id: number;
  readonly onDate: string;
  readonly kind: "day-off" | "extra" | "damp";
  readonly startsMinute: number | null;
  readonly endsMinute: number | null;
  readonly handMinutes: number | null;
  readonly mixing: boolean | null;
  readonly dryingFactor: number | null;
  readonly note: string;
}

interface SessionsPageProps {
  readonly week: readonly SessionRow[];
  readonly exceptions: readonly ExceptionRow[];
  readonly today: string;
  readonly answer: FormAnswer;
}

/** When the workshop works: the ordinary week, and the dates that differ from it. */
export function SessionsPage({ week, exceptions, today, answer }: SessionsPageProps) {
  const coming = exceptions.filter(({ onDate }) => onDate >= today);
  const past = exceptions.filter(({ onDate }) => onDate < today);
  return (
    <>
      <SetupTrail />
      <h1>{weekSentence(week, coming)}</h1>
      <FormMistake answer={answer} />
      <h2>An ordinary week</h2>
      <WeekTable week={week} />
      <p class="actions">
        <a class="button" href="/setup/sessions/new">
          Add sessions
        </a>
      </p>
      <h2>Dates that differ</h2>
      {coming.length === 0 ? (
        <p>No date ahead differs from the ordinary week.</p>
      ) : (
        <ExceptionList exceptions={coming} removable />
      )}
      <p class="actions">
        <a class="button quiet" href="/setup/sessions/day-off">
          A day off
        </a>
        <a class="button quiet" href="/setup/sessions/extra">
          An extra session
        </a>
        <a class="button quiet" href="/setup/sessions/damp">
          Damp air
        </a>
      </p>
      {past.length > 0 && (
        <details>
          <summary>{counted(past.length, "date")} in the past</summary>
          <ExceptionList exceptions={past} />
        </details>
      )}
      <NextPlan />
    </>
  );
}

function weekSentence(week: readonly SessionRow[], coming: readonly ExceptionRow[]): string {
  if (week.length === 0) return "There is no session yet: add the hours you work in an ordinary week.";
  const hands = minutesWords(handMinutesOf(week));
  const ordinary = `${counted(week.length, "session")} and ${hands} of handwork in an ordinary week`;
  const [next] = coming;
  return next ? `${ordinary}; ${dayWords(next.onDate)} differs.` : `${ordinary}.`;
}

function handMinutesOf(sessions: readonly SessionRow[]): number {
  return sessions.reduce((sum, session) => sum + session.handMinutes, 0);
}

function WeekTable({ week }: { readonly week: readonly SessionRow[] }) {
  return (
    <table class="stack week-table">
      <thead>
        <tr>
          <th scope="col">Day</th>
          <th scope="col">Sessions</th>
          <th scope="col" class="number">
            Handwork
          </th>
        </tr>
      </thead>
      <tbody>
        {[1, 2, 3, 4, 5, 6, 7].map((weekday) => (
          <WeekdayLine
            key={weekday}
            weekday={weekday}
            sessions={week.filter((session) => session.weekday === weekday)}
          />
        ))}
      </tbody>
    </table>
  );
}

function WeekdayLine({
  weekday,
  sessions,
}: {
  readonly weekday: number;
  readonly sessions: readonly SessionRow[];
}) {
  return (
    <tr>
      <th scope="row">{weekdayWords(weekday)}</th>
      <td>
        {sessions.length === 0 && <span class="aside">closed</span>}
        {sessions.map((session) => (
          <p key={session.id} class="session">
            <a href={`/setup/sessions/${session.id}`}>
              {hoursWords(session.startsMinute, session.endsMinute)}
            </a>{" "}
            <span class="aside">{sessionAside(session)}</span>
          </p>
        ))}
      </td>
      <td data-label="Handwork" class="number">
        {sessions.length === 0 ? "–" : minutesWords(handMinutesOf(sessions))}
      </td>
    </tr>
  );
}

/** "09:00 to 13:00". */
export function hoursWords(startsMinute: number, endsMinute: number): string {
  return `${minuteOfDayWords(startsMinute)} to ${minuteOfDayWords(endsMinute)}`;
}

export function sessionAside({
  handMinutes,
  mixing,
}: {
  readonly handMinutes: number;
  readonly mixing: boolean;
}): string {
  return `${minutesWords(handMinutes)} of handwork${mixing ? "" : ", no mixing"}`;
}

function ExceptionList({
  exceptions,
  removable = false,
}: {
  readonly exceptions: readonly ExceptionRow[];
  readonly removable?: boolean;
}) {
  return (
    <ul class="plain-list">
      {exceptions.map((exception) => (
        <li key={exception.id} class="row">
          <span>
            <strong>{dayWords(exception.onDate, { year: true })}</strong> {exceptionWords(exception)}
            {exception.note && <span class="aside"> · {exception.note}</span>}
          </span>
          {removable && (
            <Form action={`/setup/sessions/exceptions/${exception.id}/removal`} class="inline">
              <button
                type="submit"
                class="quiet"
                aria-label={`Make ${dayWords(exception.onDate)} ordinary again: ${exceptionWords(exception)}`}
              >
                Ordinary again
              </button>
            </Form>
          )}
        </li>
      ))}
    </ul>
  );
}

function exceptionWords(exception: ExceptionRow): string {
  const { kind, startsMinute, endsMinute, handMinutes, mixing, dryingFactor } = exception;
  if (kind === "day-off") return "day off";
  if (kind === "damp") return `drying takes ${plainNumber(dryingFactor ?? 1)} times as long`;
  const hours = hoursWords(startsMinute ?? 0, endsMinute ?? 0);
  return `extra session ${hours}, ${sessionAside({ handMinutes: handMinutes ?? 0, mixing: mixing ?? false })}`;
}
