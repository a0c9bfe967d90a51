import type { Stop } from "../stop.ts";

/** Deals out one stop to searches that follow each other, each up to its share of the whole. */
export class Shares {
  readonly #stop: Stop;
  #done = 0;

  constructor(stop: Stop) {
    this.#stop = stop;
  }

  upTo(share: number): Stop {
    const before = this.#done;
    const from = this.#stop.progress(before);
    return {
      progress: (iterations) => {
        this.#done = before + iterations;
        const over = this.#stop.progress(this.#done);
        return over >= share ? 1 : (over - from) / (share - from);
      },
    };
  }
}
