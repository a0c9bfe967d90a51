import { sumOf } from "./weights.ts";

/** A run from its start to its last recorded pressing. */
export interface PressedRun {
  /** Minutes by the clock between the two. */
  readonly minutes: number;
  /**
   * Of these spent pressing, where every bowl was tapped as mixed and as pressed and none was mixed while another was
   * pressed; null where that is not known.
   */
  readonly pressingMinutes: number | null;
  /** Hand minutes there are for each minute of its session, as the plan has it. */
  readonly hands: number;
  readonly bowls: number;
  /** Hand minutes to weigh, sift and mix a bowl. */
  readonly mixMinutes: number;
  /** Whether another run was on the bench at the same time, so that nobody can tell whose the minutes were. */
  readonly crowded: boolean;
  readonly lots: readonly PressedLot[];
}

export interface PressedLot {
  readonly shapeId: number;
  readonly blendId: number;
  /** At least 1. */
  readonly pressed: number;
  /** What the plan counts for pressing a piece. */
  readonly formSeconds: number;
}

/** Further from the plan's figure than this by half or double and again, and something else happened meanwhile. */
const MOST_TIMES = 4;

/**
 * What pressing a piece took in each lot of a run, in hand seconds: the clock while its bowls were pressed, times the hands
 * there are; where bowls were not tapped, the clock of the whole run less the mixing as the plan counts it. Shared out as the
 * plan's figures have it where a run was pressed into several shapes.
 *
 * @returns null where the clock tells nothing of it: two runs at once, or a start or an end written down at another time
 *   than it happened, so that the answer is more than four times, or less than a quarter, of what the plan counts.
 */
export function secondsAPiece(run: PressedRun): readonly number[] | null {
  if (run.crowded) return null;
  // Where nothing is counted a second stands in, so that there is something to compare with.
  const counted = ({ formSeconds }: PressedLot) => Math.max(1, formSeconds);
  const expected = sumOf(run.lots, (lot) => lot.pressed * counted(lot));
  const handMinutes =
    run.pressingMinutes === null
      ? run.minutes * run.hands - run.bowls * run.mixMinutes
      : run.pressingMinutes * run.hands;
  const taken = 60 * handMinutes;
  const times = taken / expected;
  if (!(times >= 1 / MOST_TIMES && times <= MOST_TIMES)) return null;
  return run.lots.map((lot) => counted(lot) * times);
}
