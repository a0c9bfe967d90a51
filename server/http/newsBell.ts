import type { Database } from "../../db/connect.ts";

/**
 * Tells everybody who watches at this server that something has changed, whichever server changed it; triggers ring on
 * the channel. It listens on the driver's connection for that from the first watcher on; when that connection was lost
 * and is back it rings too, as nobody knows what was missed meanwhile.
 */
export class NewsBell {
  readonly #db: Database;
  readonly #channel: string;
  readonly #watchers = new Set<() => void>();
  readonly #closing = new AbortController();
  #listening: Promise<unknown> | null = null;

  constructor(db: Database, channel: string) {
    this.#db = db;
    this.#channel = channel;
  }

  /** Aborted once the server stops: whoever watches is let go. */
  get closed(): AbortSignal {
    return this.#closing.signal;
  }

  /**
   * Watches from now on. `news` resolves with true when the bell has rung since it was asked last, with false when the
   * signal says not to wait any longer; `leave` ends the watch. Throws where the database cannot be reached.
   */
  async watch(): Promise<{ news(signal: AbortSignal): Promise<boolean>; leave(): void }> {
    let hasRung = false;
    let wake = () => {};
    const ring = () => {
      hasRung = true;
      wake();
    };
    this.#watchers.add(ring);
    await this.#listen();
    hasRung = false;
    return {
      news: async (signal) => {
        if (!hasRung && !signal.aborted)
          await new Promise<void>((resolve) => {
            wake = resolve;
            signal.addEventListener("abort", () => resolve(), { once: true });
          });
        const rung = hasRung;
        hasRung = false;
        return rung;
      },
      leave: () => this.#watchers.delete(ring),
    };
  }

  close(): void {
    this.#closing.abort();
  }

  async #listen(): Promise<void> {
    const ringAll = () => {
      for (const ring of [...this.#watchers]) ring();
    };
    this.#listening ??= this.#db.$client.listen(this.#channel, ringAll, ringAll);
    try {
      await this.#listening;
    } catch (error) {
      this.#listening = null;
      throw error;
    }
  }
}
