import type { LyingFacts, RunFacts, SessionFacts, ShapeFacts, TimetableFacts } from "./facts.ts";
import { laySession } from "./laySession.ts";
import { orderRuns } from "./runOrder.ts";
import type { Entry, LotWork, Trouble } from "./session.ts";

/** One session of the timetable. */
export interface SessionTimetable {
  readonly startsAt: Date;
  readonly endsAt: Date;
  /** By start, then by hand. What was begun already stands with the time it was begun at. */
  readonly entries: readonly Entry[];
  /** Whatever does not fit, or is not as good as it could be. Empty: everything fits. */
  readonly troubles: readonly Trouble[];
}

/**
 * The coming sessions to the minute: every run in the session the plan gave it, bowl by bowl, with the turnings,
 * unmoldings and packings that fall due. Forming, unmolding and packing stand in the sessions in which the planner
 * counts them (server/planning/README.md), and cost the hands what it counts. The same facts and the same moment
 * give the same timetable.
 */
export function timetable(facts: TimetableFacts, now: Date): readonly SessionTimetable[] {
  const coming = facts.sessions.filter(({ endsAt }) => endsAt > now);
  const shapes = new Map(facts.shapes.map((shape) => [shape.shapeId, shape]));
  const runsBySession = coming.map((session, place) => runsOf(session, place, facts.runs));
  const lots = [
    ...facts.lying.map((lot) => lyingLot(lot, coming, shapeOf(shapes, lot))),
    ...coming.flatMap((session, place) =>
      (runsBySession[place] ?? []).flatMap((run) =>
        run.lots.flatMap((lot) =>
          lot.isPressed ? [] : [formedLot(lot, run, { place, session }, coming, shapeOf(shapes, lot))],
        ),
      ),
    ),
  ];
  const formed = new Map<number, Date>();
  const turned = new Map<number, Date>();
  return coming.map((session, place) => {
    const runs = inOrder(runsBySession[place] ?? []);
    const laid = laySession({
      session,
      place,
      from: session.startsAt > now ? session.startsAt : now,
      runs: runs.ordered,
      lots: lots
        .filter(({ firstSession }) => firstSession <= place)
        .map((lot) => ({
          ...lot,
          formedAt: lot.formedAt ?? formed.get(lot.lotId) ?? null,
          turnedAt: turned.get(lot.lotId) ?? lot.turnedAt,
        })),
      shapes,
      workshop: facts.workshop,
    });
    for (const [lotId, at] of laid.formed) formed.set(lotId, at);
    for (const [lotId, at] of laid.turned) turned.set(lotId, at);
    const unproven = runs.isBest ? [] : [{ kind: "order-not-proven", runs: runs.ordered.length } as const];
    return {
      startsAt: session.startsAt,
      endsAt: session.endsAt,
      entries: laid.entries,
      troubles: [...laid.troubles, ...unproven],
    };
  });
}

/** The runs a session has. One that is in the bowl although its session is over belongs to the first that comes. */
function runsOf(session: SessionFacts, place: number, runs: readonly RunFacts[]): readonly RunFacts[] {
  const isHere = (run: RunFacts) => run.sessionStartsAt.getTime() === session.startsAt.getTime();
  const isLeftOver = (run: RunFacts) =>
    place === 0 && run.startedAt !== null && run.sessionStartsAt < session.startsAt;
  return runs.filter((run) => isHere(run) || isLeftOver(run));
}

/** What was begun first, as it was begun; then light to dark. */
function inOrder(runs: readonly RunFacts[]) {
  const begun = runs
    .filter(({ startedAt }) => startedAt !== null)
    .sort(
      (one, other) =>
        (one.startedAt?.getTime() ?? 0) - (other.startedAt?.getTime() ?? 0) || one.runId - other.runId,
    );
  const { runs: planned, isBest } = orderRuns(
    runs.filter(({ startedAt }) => startedAt === null),
    begun.at(-1) ?? null,
  );
  return { ordered: [...begun, ...planned], isBest };
}

function lyingLot(lot: LyingFacts, sessions: readonly SessionFacts[], shape: ShapeFacts): LotWork {
  const { lotId, units } = lot;
  const handled = { dryAt: lot.unmoldDueAt, formedAt: lot.formedAt, turnedAt: lot.turnedAt };
  if (lot.state === "resting")
    return {
      ...{ lotId, units, shape, firstSession: 0, isResting: true },
      ...{ unmold: null, pack: firstFrom(sessions, lot.readyDueAt) },
      ...handled,
    };
  const unmold = firstFrom(sessions, lot.unmoldDueAt);
  const rest = lot.readyDueAt.getTime() - lot.unmoldDueAt.getTime();
  const readyAt = unmold === null ? null : new Date(startOf(sessions, unmold).getTime() + rest);
  const pack = unmold === null || readyAt === null ? null : firstFrom(sessions, readyAt, unmold);
  return { lotId, units, shape, firstSession: 0, isResting: false, unmold, pack, ...handled };
}

/** Forming counts as finished at the session's end, as the planner counts it. */
function formedLot(
  lot: { readonly lotId: number; readonly units: number },
  run: RunFacts,
  { place, session }: { readonly place: number; readonly session: SessionFacts },
  sessions: readonly SessionFacts[],
  shape: ShapeFacts,
): LotWork {
  const dryAt = later(session.endsAt, shape.moldMinutes * run.dryingFactor);
  const unmold = firstFrom(sessions, dryAt, place + 1);
  const pack =
    unmold === null
      ? null
      : firstFrom(sessions, later(startOf(sessions, unmold), shape.restMinutes * run.dryingFactor), unmold);
  const { lotId, units } = lot;
  return {
    ...{ lotId, units, shape, firstSession: place, isResting: false },
    ...{ dryAt, unmold, pack, formedAt: null, turnedAt: null },
  };
}

/** The first session that starts at an instant or later, not before the `least`th; null where none does. */
function firstFrom(sessions: readonly SessionFacts[], from: Date, least = 0): number | null {
  const place = sessions.findIndex(({ startsAt }, index) => index >= least && startsAt >= from);
  return place < 0 ? null : place;
}

function startOf(sessions: readonly SessionFacts[], place: number): Date {
  const session = sessions[place];
  if (session === undefined) throw new Error(`There is no session ${place}`);
  return session.startsAt;
}

function shapeOf(shapes: ReadonlyMap<number, ShapeFacts>, lot: { readonly shapeId: number }): ShapeFacts {
  const shape = shapes.get(lot.shapeId);
  if (shape === undefined) throw new Error(`A timetable leaves out shape ${lot.shapeId}`);
  return shape;
}

/** Rounded up to the whole minute as the planner does, after taking off floating-point noise. */
function later(instant: Date, minutes: number): Date {
  return new Date(instant.getTime() + Math.ceil(minutes - 1e-6) * 60_000);
}
