import type { OrderFigures } from "./planFigures.ts";

/** A search for a plan at one moment, as its page shows it. */
export interface SearchFigures {
  readonly searchId: string;
  readonly askedAt: Date;
  readonly askedBy: string;
  /** Whether the search is done and it is asked what holds the workshop up. */
  readonly isAsking: boolean;
  /** Share of the search's time that is over, 0 to 1. */
  readonly progress: number;
  /** The search's time, at most. */
  readonly seconds: number;
  /** Lateness of the first plan, in piece-days. */
  readonly firstCost: number;
  /** Null in the first moments. */
  readonly best: BestSoFar | null;
}

export interface BestSoFar {
  /** How many plans, each better than those before, have been shown. */
  readonly number: number;
  /** Whether it turned up only while asking what holds the workshop up. */
  readonly whileAsking: boolean;
  /** Lateness in piece-days, and what no plan can go below as far as is proven yet. */
  readonly cost: number;
  readonly bound: number;
  readonly handMinutes: number;
  readonly orders: readonly OrderFigures[];
}
