const MINUTE_MS = 60_000;

/** The shop's hours for turning what dries. */
export interface TurningHours {
  /** From forming to the first turning. */
  readonly firstTurnMinutes: number;
  /** From each turning to the next. */
  readonly everyTurnMinutes: number;
}

/**
 * When pieces are to be turned over next, so that both sides dry; null where they may leave their molds before that, or
 * are of a shape that is not turned.
 *
 * @param turnedAt null where they were not turned yet
 */
export function nextTurning(
  pieces: {
    readonly formedAt: Date;
    readonly turnedAt: Date | null;
    readonly unmoldDueAt: Date;
    readonly turnSeconds: number;
  },
  { firstTurnMinutes, everyTurnMinutes }: TurningHours,
): Date | null {
  if (pieces.turnSeconds === 0) return null;
  const { formedAt, turnedAt, unmoldDueAt } = pieces;
  const due =
    turnedAt === null
      ? formedAt.getTime() + firstTurnMinutes * MINUTE_MS
      : turnedAt.getTime() + everyTurnMinutes * MINUTE_MS;
  return due < unmoldDueAt.getTime() ? new Date(due) : null;
}
