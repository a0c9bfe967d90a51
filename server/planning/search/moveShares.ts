/** Share of moves the second neighbourhood begins with, and between which it stays, so that neither is given up. */
const firstShare = 0.15;
const leastShare = 0.02;
const mostShare = 0.9;
/** Best schedules found between two settings of the share, and how far it then moves to what they say. */
const bestsPerSetting = 16;
const follow = 0.5;
/** Share of the past that still counts after a setting, so that who is seldom asked is judged by more than luck. */
const memory = 0.7;

/** What one neighbourhood has done since the last setting. */
class Account {
  work = 0;
  bests = 0;
}

/**
 * Splits the moves between two neighbourhoods by what each earns: best schedules found for the work done, counted in
 * orders put back and not in time, so that the split is the same on every machine. Who earns twice as much gets four
 * times the moves. Nothing changes while nothing is found.
 */
export class MoveShares {
  /** Share of moves that should be of the second neighbourhood. */
  share = firstShare;
  readonly #first = new Account();
  readonly #second = new Account();

  /** Hears how many orders a move took out, and whether it led to the best schedule so far. */
  hear(isSecond: boolean, orders: number, isBest: boolean): void {
    const account = isSecond ? this.#second : this.#first;
    account.work += 1 + orders;
    if (!isBest) return;
    account.bests += 1;
    if (this.#first.bests + this.#second.bests < bestsPerSetting) return;
    const first = earned(this.#first) ** 2;
    const second = earned(this.#second) ** 2;
    const wanted = Math.min(mostShare, Math.max(leastShare, second / (first + second)));
    this.share += follow * (wanted - this.share);
    for (const each of [this.#first, this.#second]) {
      each.work *= memory;
      each.bests *= memory;
    }
  }
}

/** Bests for each unit of work. */
function earned({ work, bests }: Account): number {
  return bests / (work + 1);
}
