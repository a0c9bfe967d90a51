import type { RunFacts, SessionFacts, ShapeFacts, TimetableFacts } from "./facts.ts";

/** Pieces of one lot. */
export interface PiecesOf {
  readonly lotId: number;
  readonly units: number;
}

/** What a pair of hands does for a while. */
export type Task =
  | { readonly kind: "weigh"; readonly runId: number; readonly bowl: number }
  /** The mixer is tied up until `mixerUntil`, often longer than the hands are. */
  | {
      readonly kind: "mix";
      readonly runId: number;
      readonly bowl: number;
      /** Counted from 0. */
      readonly mixer: number;
      readonly mixerFrom: Date;
      readonly mixerUntil: Date;
    }
  | {
      readonly kind: "press";
      readonly runId: number;
      readonly bowl: number;
      readonly pieces: readonly PiecesOf[];
    }
  | { readonly kind: "clean"; readonly runId: number }
  | ({ readonly kind: "turn" | "unmold" | "pack" } & PiecesOf);

export type Entry = Task & {
  readonly startsAt: Date;
  readonly endsAt: Date;
  /** Whose: a pair of hands, counted from 0. */
  readonly hand: number;
};

/** What does not fit a session, or is not as good as it could be. */
export type Trouble =
  /** The work ends after the session does. */
  | { readonly kind: "runs-over"; readonly until: Date; readonly minutes: number }
  /** More hand minutes are needed than there are from now to its end. */
  | { readonly kind: "too-few-hand-minutes"; readonly needed: number; readonly there: number }
  | { readonly kind: "no-hands" }
  | { readonly kind: "no-mixer" }
  /** A lot would be turned once more, but no hands are free for it. */
  | { readonly kind: "turning-left-out"; readonly lotId: number; readonly dueAt: Date }
  /** The order of so many runs is good, not proven best. */
  | { readonly kind: "order-not-proven"; readonly runs: number };

/** A lot on its way, in the places of the coming sessions in which something is done with it. */
export interface LotWork extends PiecesOf {
  readonly shape: ShapeFacts;
  /** The session it is formed in; 0 for what lies already. */
  readonly firstSession: number;
  /** When it may leave its mold. */
  readonly dryAt: Date;
  /** Null: out of its mold, or never in these sessions. */
  readonly unmold: number | null;
  readonly pack: number | null;
  /** Null until the timetable forms it. */
  readonly formedAt: Date | null;
  /** Null until it is turned for the first time. */
  readonly turnedAt: Date | null;
  /** Whether it is out of its mold. */
  readonly isResting: boolean;
}

/** All that is to be done in one session, and from when. */
export interface SessionWork {
  readonly session: SessionFacts;
  /** Its place among the coming sessions. */
  readonly place: number;
  /** Its start, or the present moment where it is under way. */
  readonly from: Date;
  readonly runs: readonly RunFacts[];
  /** Formed in this session or before it. */
  readonly lots: readonly LotWork[];
  readonly shapes: ReadonlyMap<number, ShapeFacts>;
  readonly workshop: TimetableFacts["workshop"];
}
