import type { PlanSearch } from "./planSearch.ts";

/** Where the workshop's searches stand, one at a time; whoever comes back finds the running one. */
export class PlanDesk {
  #latest: PlanSearch | null = null;
  #isClosed = false;

  /** The newest search, also when it is over; null before the first. */
  get latest(): PlanSearch | null {
    return this.#latest;
  }

  get isClosed(): boolean {
    return this.#isClosed;
  }

  get running(): PlanSearch | null {
    return this.#latest?.phase === "over" ? null : this.#latest;
  }

  /** Takes the place of the one that runs, if any: its question is out of date. */
  async put(search: PlanSearch): Promise<void> {
    const before = this.running;
    this.#latest = search;
    await before?.giveUp();
    if (this.#isClosed) await search.giveUp();
  }

  /** The server stops: nobody's search goes on, and none begins. */
  async close(): Promise<void> {
    this.#isClosed = true;
    await this.running?.giveUp();
  }
}
