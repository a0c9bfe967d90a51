import type { Table } from "../table.ts";

/** How much is measured: everything, or enough to see that all is well. */
export interface Extent {
  readonly quick: boolean;
  readonly seeds: readonly number[];
}

/** One part of the benchmark: what it measures, by itself. */
export interface Section {
  readonly name: string;
  readonly title: string;
  /** How it was measured, a sentence each. */
  readonly method: (extent: Extent) => readonly string[];
  /** Measures, telling each core share as it goes. */
  readonly measure: (extent: Extent, heard: (coreShare: number) => void) => Promise<Table>;
}

/** Seconds the general solver gets for a case, so that what it reaches with patience is seen as well. */
export const highsPatience = ({ quick }: Extent) => (quick ? 5 : 25);
/** Seconds of a search: a quarter where only a quick look is wanted. */
export const shortened = ({ quick }: Extent, seconds: number) => (quick ? seconds / 4 : seconds);
