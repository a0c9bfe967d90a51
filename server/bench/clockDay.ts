import { groupBy } from "../basics/groupBy.ts";
import type { PlannedSession } from "../plans/plannedSessions.ts";
import type { Entry, Trouble } from "../timetable/session.ts";
import type { SessionTimetable } from "../timetable/timetable.ts";

/** One line of the day by the clock; a bowl is one line from weighing to pressing. */
export type ClockLine = { readonly startsAt: Date; readonly endsAt: Date } & (
  | {
      readonly kind: "bowl";
      readonly runId: number;
      readonly bowl: number;
      readonly mixAt: Date;
      /** Null where nothing of it is left to press. */
      readonly pressAt: Date | null;
      readonly units: number;
    }
  | { readonly kind: "clean"; readonly runId: number }
  | { readonly kind: "turn" | "unmold" | "pack"; readonly lotId: number; readonly units: number }
);

/** A trouble, and the session it is in. */
export interface ClockTrouble {
  readonly trouble: Trouble;
  readonly sessionStartsAt: Date;
}

/** The day by the clock as its page shows it. */
export interface ClockDay {
  /** Today, or the next date with anything on it; null where the timetable holds nothing. */
  readonly date: string | null;
  /** What comes after the present moment, in time order. */
  readonly lines: readonly ClockLine[];
  readonly troubles: readonly ClockTrouble[];
  /** From its first line to its last one, by run. */
  readonly runTimes: ReadonlyMap<number, { readonly startsAt: Date; readonly endsAt: Date }>;
}

/** The lines of the first date that has any, from sessions and their timetables, which stand in the same order. */
export function clockDay(
  sessions: readonly PlannedSession[],
  laid: readonly SessionTimetable[],
  now: Date,
): ClockDay {
  const dateOf = new Map(sessions.map(({ startsAt, date }) => [startsAt.getTime(), date]));
  const dated = laid.map((session) => ({ ...session, date: dateOf.get(session.startsAt.getTime()) ?? null }));
  const first = dated.find(({ entries, troubles }) => entries.length > 0 || troubles.length > 0);
  const ofDay = dated.filter(({ date }) => first !== undefined && date === first.date);
  return {
    date: first?.date ?? null,
    lines: inLines(ofDay.flatMap(({ entries }) => entries)).filter(({ startsAt }) => startsAt > now),
    troubles: ofDay.flatMap(({ troubles, startsAt }) =>
      troubles.map((trouble) => ({ trouble, sessionStartsAt: startsAt })),
    ),
    runTimes: runTimes(laid.flatMap(({ entries }) => entries)),
  };
}

/** Runs as the timetable takes them; those it does not have stay behind the others, in their own order. */
export function inTimetableOrder<Run extends { readonly id: number; readonly sessionStartsAt: Date }>(
  runs: readonly Run[],
  { runTimes: times }: Pick<ClockDay, "runTimes">,
): readonly Run[] {
  const at = (run: Run) => times.get(run.id)?.startsAt.getTime() ?? Number.MAX_VALUE;
  return runs.toSorted(
    (one, other) =>
      one.sessionStartsAt.getTime() - other.sessionStartsAt.getTime() || Math.sign(at(one) - at(other)) || 0,
  );
}

function inLines(entries: readonly Entry[]): readonly ClockLine[] {
  const lines = entries.flatMap((entry): readonly ClockLine[] => {
    const { startsAt, endsAt } = entry;
    switch (entry.kind) {
      case "clean":
        return [{ kind: "clean", runId: entry.runId, startsAt, endsAt }];
      case "turn":
      case "unmold":
      case "pack":
        return [{ kind: entry.kind, lotId: entry.lotId, units: entry.units, startsAt, endsAt }];
      case "mix":
        return [bowlLine(entry, entries)];
      default:
        return [];
    }
  });
  return [...lines].sort((one, other) => one.startsAt.getTime() - other.startsAt.getTime());
}

/** The bowl that is mixed by this entry, from its first entry to its last one. */
function bowlLine(
  { runId, bowl, ...mix }: Extract<Entry, { kind: "mix" }>,
  entries: readonly Entry[],
): ClockLine {
  const its = entries.filter((entry) => "bowl" in entry && entry.runId === runId && entry.bowl === bowl);
  const press = its.find((entry) => entry.kind === "press");
  const pieces = press?.kind === "press" ? press.pieces : [];
  return {
    ...{ kind: "bowl", runId, bowl },
    startsAt: its[0]?.startsAt ?? mix.startsAt,
    endsAt: its.at(-1)?.endsAt ?? mix.endsAt,
    mixAt: mix.startsAt,
    pressAt: press?.startsAt ?? null,
    units: pieces.reduce((sum, { units }) => sum + units, 0),
  };
}

function runTimes(entries: readonly Entry[]): ClockDay["runTimes"] {
  const byRun = groupBy(
    entries.flatMap((entry) => ("runId" in entry ? [entry] : [])),
    ({ runId }) => runId,
  );
  return new Map(
    [...byRun].map(([runId, its]) => [
      runId,
      {
        startsAt: new Date(Math.min(...its.map(({ startsAt }) => startsAt.getTime()))),
        endsAt: new Date(Math.max(...its.map(({ endsAt }) => endsAt.getTime()))),
      },
    ]),
  );
}
