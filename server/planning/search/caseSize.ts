import type { Instance } from "./instance.ts";

/**
 * With fewer order lines than this, chance alone looks into every corner, and what guides the search in larger cases would
 * close some.
 */
const guidedLines = 15;

/** How far a case is large enough to guide the search in it. */
export class CaseSize {
  /** From 0, chance alone, to 1. */
  readonly guidance: number;

  constructor({ lines }: Instance) {
    this.guidance = Math.min(1, lines / guidedLines);
  }

  get isSmall(): boolean {
    return this.guidance < 1;
  }

  /** A setting for this case, between that of larger ones and that of the smallest. */
  between(usually: number, inSmallest: number): number {
    return usually * this.guidance + inSmallest * (1 - this.guidance);
  }
}
