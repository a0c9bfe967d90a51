/** What a timetable is made from: the coming sessions of the plan that is followed, and what waits at the bench. */
export interface TimetableFacts {
  readonly workshop: {
    readonly mixers: number;
    /** How long one bowl ties up one mixer. */
    readonly bowlMinutes: number;
    /** Hand minutes a bowl: weigh, sift, mix. */
    readonly mixMinutes: number;
    /** Hand minutes a run: clean-down. */
    readonly cleanMinutes: number;
    /** From forming to the first turning, and from each turning to the next. */
    readonly firstTurnMinutes: number;
    readonly everyTurnMinutes: number;
  };
  /** In time order, never overlapping; the first may be under way. */
  readonly sessions: readonly SessionFacts[];
  readonly runs: readonly RunFacts[];
  readonly lying: readonly LyingFacts[];
  readonly shapes: readonly ShapeFacts[];
}

export interface SessionFacts {
  readonly startsAt: Date;
  readonly endsAt: Date;
  /** People times minutes, from its start to its end. */
  readonly handMinutes: number;
}

/** A run that is planned or in the bowl. */
export interface RunFacts {
  readonly runId: number;
  /** The start of its session. */
  readonly sessionStartsAt: Date;
  readonly sessionEndsAt: Date;
  /** Null before somebody has begun it. */
  readonly startedAt: Date | null;
  readonly dryingFactor: number;
  /** 0 lightest .. 1 darkest. */
  readonly shade: number;
  /** The scent oils in its recipe; null where it has none that says so. */
  readonly scents: readonly number[] | null;
  readonly bowls: number;
  /** Bowls that were begun. */
  readonly begun: readonly BegunBowl[];
  readonly lots: readonly RunLot[];
}

/** A bowl somebody has begun. */
export interface BegunBowl {
  /** Counted from 1. */
  readonly bowl: number;
  readonly startedAt: Date;
  /** When the mix was right and pressing began; null while it is weighed or mixed. */
  readonly mixedAt: Date | null;
  /** When all of it was pressed. */
  readonly pressedAt: Date | null;
}

export interface RunLot {
  readonly lotId: number;
  readonly shapeId: number;
  readonly units: number;
  /** Whether what was pressed is recorded already. */
  readonly isPressed: boolean;
}

/** A lot that dries or rests. */
export interface LyingFacts {
  readonly lotId: number;
  readonly shapeId: number;
  readonly units: number;
  readonly state: "drying" | "resting";
  readonly formedAt: Date;
  /** Null where nobody has turned it yet. */
  readonly turnedAt: Date | null;
  readonly unmoldDueAt: Date;
  readonly readyDueAt: Date;
}

/** Hand seconds are a piece's. */
export interface ShapeFacts {
  readonly shapeId: number;
  readonly moldMinutes: number;
  readonly restMinutes: number;
  readonly formSeconds: number;
  /** 0: pieces of this shape are not turned. */
  readonly turnSeconds: number;
  readonly unmoldSeconds: number;
  readonly packSeconds: number;
}
