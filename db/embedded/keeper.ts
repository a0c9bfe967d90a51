import { reasonOf } from "./systemError.ts";
import { type Cluster, startTended, type Tended } from "./tend.ts";
import { startWatchdog, type Watchdog } from "./watchdog.ts";

/** A Postgres that ends more often than this within a minute is not worth starting again. */
const MOST_RESTARTS_A_MINUTE = 5;

/** Starts the cluster's Postgres, starts it again whenever it ends by itself, and stops it for good when told to. */
export class Keeper {
  readonly #cluster: Cluster;
  readonly #lost: (reason: string) => void;
  readonly #watchdog: Watchdog;
  readonly #restartedAt: number[] = [];
  #stopping = false;
  #keeping: Promise<void> = Promise.resolve();
  #tended: Tended | undefined;

  /** `lost` is called, with the reason in words, when Postgres is gone for good without having been told to stop. */
  constructor(cluster: Cluster, lost: (reason: string) => void) {
    this.#cluster = cluster;
    this.#lost = lost;
    this.#watchdog = startWatchdog(cluster.place);
  }

  /** Resolves with the port on which Postgres answers, from now until `stop`. */
  async start(): Promise<number> {
    try {
      const tended = await this.#startOnce();
      this.#keeping = this.#keep(tended).catch((error: unknown) => {
        this.#lost(reasonOf(error));
      });
      return tended.port;
    } catch (error) {
      this.#watchdog.dismiss();
      throw error;
    }
  }

  async stop(): Promise<void> {
    this.#stopping = true;
    await this.#tended?.postmaster.stop();
    await this.#keeping;
    this.#watchdog.dismiss();
  }

  async #startOnce(): Promise<Tended> {
    const tended = await startTended(this.#cluster);
    this.#tended = tended;
    this.#watchdog.watch(tended.postmaster.pid);
    // `stop` may have been called while this one was on its way.
    if (this.#stopping) await tended.postmaster.stop();
    return tended;
  }

  async #keep(first: Tended): Promise<void> {
    for (let tended = first; ; tended = await this.#startAgain(first.port)) {
      const how = await tended.postmaster.ended;
      await tended.ownership.release();
      if (this.#stopping) return;
      this.#cluster.say(`The built-in database ended (${how}). Starting it again.`);
    }
  }

  async #startAgain(port: number): Promise<Tended> {
    const aMinuteAgo = Date.now() - 60_000;
    if (this.#restartedAt.filter((at) => at > aMinuteAgo).length >= MOST_RESTARTS_A_MINUTE) {
      throw new Error("The built-in database ended again and again.");
    }
    this.#restartedAt.push(Date.now());
    const tended = await this.#startOnce();
    if (tended.port !== port) {
      await tended.postmaster.stop();
      throw new Error(`Port ${port}, on which the built-in database listened, was taken by something else.`);
    }
    this.#cluster.say("The built-in database runs again.");
    return tended;
  }
}
