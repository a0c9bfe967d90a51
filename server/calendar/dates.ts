import type { OpenRun } from "../bench/queries.ts";
import type { PlannedSession } from "../plans/plannedSessions.ts";
import type { Entry } from "../timetable/session.ts";
import type { SessionTimetable } from "../timetable/timetable.ts";

/** A session in which something is mixed, with its runs in their order. */
export interface MixingDate {
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly runs: readonly { readonly run: OpenRun; readonly startsAt: Date }[];
}

/** A turning to come. */
export interface TurningDate {
  readonly lotId: number;
  /** The lot's first turning is 1; stays the same while its time moves. */
  readonly turning: number;
  readonly units: number;
  readonly startsAt: Date;
  readonly endsAt: Date;
}

/** The sessions with runs, from the timetable: one without runs is no date for the calendar. */
export function mixingDates(
  sessions: readonly PlannedSession[],
  laid: readonly SessionTimetable[],
  runs: readonly OpenRun[],
): readonly MixingDate[] {
  const byId = new Map(runs.map((run) => [run.id, run]));
  const starts = new Set(sessions.map(({ startsAt }) => startsAt.getTime()));
  return laid
    .filter(({ startsAt }) => starts.has(startsAt.getTime()))
    .flatMap(({ startsAt, endsAt, entries }) => {
      const first = new Map<number, Date>();
      for (const entry of entries)
        if ("runId" in entry && !first.has(entry.runId)) first.set(entry.runId, entry.startsAt);
      const its = [...first].flatMap(([runId, at]) => {
        const run = byId.get(runId);
        return run ? [{ run, startsAt: at }] : [];
      });
      return its.length === 0 ? [] : [{ startsAt, endsAt, runs: its }];
    });
}

/** The turnings of the timetable, counted on from those that are done. */
export function turningDates(
  laid: readonly SessionTimetable[],
  done: ReadonlyMap<number, number>,
): readonly TurningDate[] {
  const counted = new Map(done);
  return laid
    .flatMap(({ entries }) => entries)
    .filter((entry): entry is Extract<Entry, { kind: "turn" | "unmold" | "pack" }> => entry.kind === "turn")
    .map(({ lotId, units, startsAt, endsAt }) => {
      const turning = (counted.get(lotId) ?? 0) + 1;
      counted.set(lotId, turning);
      return { lotId, turning, units, startsAt, endsAt };
    });
}
