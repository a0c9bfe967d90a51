import type { Instance } from "../search/instance.ts";
import { costGranule, roundedUp } from "./costGranule.ts";
import { LimitPrices } from "./limitPrices.ts";
import { Limits } from "./limits.ts";
import { mostFormed } from "./mostFormed.ts";
import { Offers } from "./offers.ts";
import { OrderSide } from "./orderSide.ts";
import { RunPrices } from "./runPrices.ts";

/** Iterations of the plain relaxation, whose prices the other begins with. */
const plainIterations = 300;

/**
 * A lateness cost that no plan for the case can go below, by Lagrangian relaxation (Held and Karp 1970). Two of them: the
 * plain one finds good prices for molds and trays soon, the other goes on from there and knows that a session has
 * to choose its blends.
 */
export class LowerBound {
  /** The best bound found so far, in unit-days. */
  value: number;
  readonly #granule: number;
  readonly #plain: LimitPrices;
  readonly #runs: RunPrices;
  #iterations = 0;

  constructor(instance: Instance) {
    const formed = mostFormed(instance);
    const offers = new Offers(instance, formed);
    const limits = new Limits(instance);
    const orders = new OrderSide(instance, offers);
    this.#granule = costGranule(instance);
    this.#plain = new LimitPrices(instance, offers, formed, limits, orders);
    this.#runs = new RunPrices(instance, offers, limits, orders);
    this.value = roundedUp(this.#plain.value, this.#granule);
  }

  /** True where no plan can be better than one of this cost. */
  proves(cost: number): boolean {
    return this.value >= cost - 1e-6 * Math.max(1, cost);
  }

  /** Works `iterations` more on the bound, towards `target`, the cost of the best plan known. Never lowers it. */
  improve(iterations: number, target: number): void {
    if (this.proves(target)) return;
    // Rounded up, anything above the next lower cost there can be proves the target.
    const lower =
      this.#granule === 0 ? target : (Math.ceil(target / this.#granule - 1e-9) - 1) * this.#granule;
    const enough = lower + 0.01 * this.#granule;
    const plain = Math.min(iterations, Math.max(0, plainIterations - this.#iterations));
    this.#plain.improve(plain, enough);
    if (iterations > plain) {
      if (this.#iterations <= plainIterations) this.#runs.start(this.#plain, enough);
      this.#runs.improve(iterations - plain, enough);
    }
    this.#iterations += iterations;
    const best = Math.max(this.#plain.value, this.#runs.value);
    this.value = Math.max(this.value, roundedUp(best, this.#granule));
  }
}
