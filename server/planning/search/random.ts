/** A seed is a whole number below this. */
export const seeds = 2 ** 32;

/**
 * The engine's only source of chance: a 32-bit generator, the same on every machine for a seed. It is "mulberry32" by
 * Tommy Ettinger (public domain): a Weyl sequence through a mixing function.
 */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** Uniform in [0, 1). */
  fraction(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  }

  /** Uniform among 0 .. count - 1. */
  below(count: number): number {
    return Math.floor(this.fraction() * count);
  }

  /** Exponentially distributed about a mean: how much worse annealing puts up with at that temperature. */
  patience(mean: number): number {
    return -mean * Math.log(this.fraction() + 1e-300);
  }

  /** Shuffles the first `count` entries in place. */
  shuffle(values: Int32Array, count: number): void {
    for (let last = count - 1; last > 0; last--) {
      const other = this.below(last + 1);
      const kept = values[last]!;
      values[last] = values[other]!;
      values[other] = kept;
    }
  }
}
