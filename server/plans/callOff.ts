import type { Stop } from "../planning/stop.ts";

/** Memory that a planner's thread shares with whoever asked it. */
export type CallOffCells = Int32Array<SharedArrayBuffer>;

const CALLED_OFF = 0;
const ASKED = 1;

/** Thrown through the engine: whoever called a search off wants no plan of it any more. */
export class CalledOff extends Error {
  constructor() {
    super("called off");
  }
}

/**
 * Calls work off that runs in another thread. A thread in the middle of a search reads no messages, but it asks its
 * stop at every move, and the stop looks here.
 */
export class CallOff {
  readonly cells: CallOffCells;

  constructor(cells: CallOffCells = new Int32Array(new SharedArrayBuffer(2 * Int32Array.BYTES_PER_ELEMENT))) {
    this.cells = cells;
  }

  now(): void {
    Atomics.store(this.cells, CALLED_OFF, 1);
  }

  /** How often stops have been asked, over all threads; stands still once nobody searches. */
  get timesAsked(): number {
    return Atomics.load(this.cells, ASKED);
  }

  /** The given stop, for as long as nobody calls the work off. */
  watching(stop: Stop): Stop {
    return {
      progress: (iterations) => {
        Atomics.add(this.cells, ASKED, 1);
        if (Atomics.load(this.cells, CALLED_OFF) === 1) throw new CalledOff();
        return stop.progress(iterations);
      },
    };
  }
}

/** A thread that has not heeded its call-off by then is in the middle of a long step; it is ended, the pool starts another. */
const GRACE_MS = 25;

/**
 * Whoever waits for work in threads, and how it is called off: at once through the memory shared with them, and with the
 * end of a thread that does not heed that.
 */
export class Waiting {
  /** Given to the pool: ends the thread. */
  readonly threadEnd: AbortSignal;
  readonly #end = new AbortController();
  readonly #callOff: CallOff;
  readonly #signal: AbortSignal | undefined;
  readonly #leave = () => this.callOff();
  #grace: NodeJS.Timeout | undefined;

  constructor(callOff: CallOff, signal: AbortSignal | undefined) {
    this.threadEnd = this.#end.signal;
    this.#callOff = callOff;
    this.#signal = signal;
    if (signal?.aborted) this.callOff();
    signal?.addEventListener("abort", this.#leave, { once: true });
  }

  callOff(): void {
    this.#callOff.now();
    this.#grace ??= setTimeout(() => this.#end.abort(), GRACE_MS);
  }

  /** To be called when the work is over, whatever came of it. */
  over(): void {
    clearTimeout(this.#grace);
    this.#signal?.removeEventListener("abort", this.#leave);
  }
}
