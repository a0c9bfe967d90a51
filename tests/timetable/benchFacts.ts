import type { RunFacts, ShapeFacts, TimetableFacts } from "../../server/timetable/facts.ts";
import type { Entry } from "../../server/timetable/session.ts";

/*
 * What a timetable is made from, valid by default: one person from 09:00 to 13:00 on Monday 1 March 2027 and from 09:00
 * to 13:00 the day after, one mixer, balls of 48 seconds that dry overnight. Say only what matters.
 */

export const at = (clock: string) => new Date(`2027-03-${clock}:00Z`);

export const ball: ShapeFacts = {
  shapeId: 1,
  moldMinutes: 16 * 60,
  restMinutes: 8 * 60,
  formSeconds: 48,
  turnSeconds: 6,
  unmoldSeconds: 15,
  packSeconds: 60,
};

export const workshop: TimetableFacts["workshop"] = {
  mixers: 1,
  bowlMinutes: 30,
  mixMinutes: 20,
  cleanMinutes: 12,
  firstTurnMinutes: 270,
  everyTurnMinutes: 180,
};

export const session = (date: string, starts = "09:00", ends = "13:00", handMinutes = 240) => ({
  startsAt: at(`${date}T${starts}`),
  endsAt: at(`${date}T${ends}`),
  handMinutes,
});

/** Two bowls of 30 balls in all, in the session of Monday. */
export function runOf(given: Partial<RunFacts> = {}): RunFacts {
  return {
    runId: 1,
    sessionStartsAt: at("01T09:00"),
    sessionEndsAt: at("01T13:00"),
    startedAt: null,
    dryingFactor: 1,
    shade: 0.7,
    scents: [1],
    bowls: 2,
    begun: [],
    lots: [{ lotId: 11, shapeId: 1, units: 30, isPressed: false }],
    ...given,
  };
}

export function factsOf(given: Partial<TimetableFacts> = {}): TimetableFacts {
  return {
    workshop,
    sessions: [session("01"), session("02")],
    runs: [runOf()],
    lying: [],
    shapes: [ball],
    ...given,
  };
}

/** Entries as one would write them on a board: "09:00-09:15 weigh 1.1". */
export function written(entries: readonly Entry[]): readonly string[] {
  return entries.map((entry) => {
    const clock = (instant: Date) => instant.toISOString().slice(11, 16);
    const about = "bowl" in entry ? `${entry.runId}.${entry.bowl}` : "";
    const what =
      entry.kind === "clean"
        ? String(entry.runId)
        : "lotId" in entry
          ? `${entry.units} of ${entry.lotId}`
          : about;
    return `${clock(entry.startsAt)}-${clock(entry.endsAt)} ${entry.kind} ${what}`;
  });
}
