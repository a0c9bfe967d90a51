import type { BegunBowl, RunFacts, ShapeFacts, TimetableFacts } from "./facts.ts";
import type { PiecesOf } from "./session.ts";

/** The last minutes of a bowl's hand time are in the mixer, scraping it down each minute. Common practice, no source. */
export const MINUTES_IN_MIXER = 5;

/** One bowl of a run, in milliseconds of one pair of hands: weighed, mixed, and pressed at once, as the mix does not keep. */
export interface Bowl {
  readonly runId: number;
  /** Counted from 1. */
  readonly bowl: number;
  readonly weighMs: number;
  readonly mixMs: number;
  readonly pressMs: number;
  readonly pieces: readonly PiecesOf[];
  /** How far it is; null where nobody has begun it. */
  readonly begun: BegunBowl | null;
  /** After the last bowl of its run; otherwise 0. */
  readonly cleanMs: number;
}

/**
 * The bowls of a run that are not pressed yet. The pieces of each lot are shared among the bowls as evenly as whole
 * pieces can be. Of a run that was begun without a word about its bowls the first is taken to be under way.
 */
export function bowlsOf(
  run: RunFacts,
  shapes: ReadonlyMap<number, ShapeFacts>,
  { mixMinutes, cleanMinutes }: Pick<TimetableFacts["workshop"], "mixMinutes" | "cleanMinutes">,
): readonly Bowl[] {
  const mixMs = Math.min(mixMinutes, MINUTES_IN_MIXER) * 60_000;
  return Array.from({ length: run.bowls }, (_, place) => {
    const pieces = run.lots
      .filter(({ isPressed }) => !isPressed)
      .map(({ lotId, shapeId, units }) => ({
        lotId,
        units: upTo(place + 1, units) - upTo(place, units),
        formSeconds: shapes.get(shapeId)?.formSeconds ?? 0,
      }))
      .filter(({ units }) => units > 0);
    return {
      runId: run.runId,
      bowl: place + 1,
      weighMs: Math.round(mixMinutes * 60_000 - mixMs),
      mixMs: Math.round(mixMs),
      pressMs: pieces.reduce((sum, { units, formSeconds }) => sum + handMs(units, formSeconds), 0),
      pieces: pieces.map(({ lotId, units }) => ({ lotId, units })),
      begun: begunOf(run, place + 1),
      cleanMs: place + 1 === run.bowls ? Math.round(cleanMinutes * 60_000) : 0,
    };
  }).filter(({ begun }) => begun?.pressedAt == null);

  function upTo(bowls: number, units: number): number {
    return Math.floor((units * bowls) / run.bowls);
  }
}

/** Hand time of so many pieces, in whole milliseconds. */
export function handMs(units: number, secondsAPiece: number): number {
  return Math.round(units * secondsAPiece * 1000);
}

function begunOf(run: RunFacts, bowl: number): BegunBowl | null {
  const known = run.begun.find((begun) => begun.bowl === bowl);
  if (known) return known;
  if (run.startedAt === null || run.begun.length > 0 || bowl > 1) return null;
  return { bowl, startedAt: run.startedAt, mixedAt: null, pressedAt: null };
}
