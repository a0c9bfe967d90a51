import type { Best } from "./best.ts";
import type { CaseSize } from "./caseSize.ts";
import { type Instance, ticksPerMinute } from "./instance.ts";
import { Scarcity } from "./scarcity.ts";
import type { Schedule } from "./schedule.ts";

/** Temperatures are shares of what one day of lateness costs the average order. */
const hot = 1;
/** Beyond this many order lines, more than a week has, a search can't afford to begin that hot: it would not cool down in time. */
const hotLines = 48;
const leastHot = 0.1;
/** A search that starts from a good plan starts cooler, so as not to lose it. */
const warm = 0.3;
const smallCaseHot = 4;
const cold = 0.12;
/**
 * No hotter than this share of what the best plan's lateness costs, in the first part of the search: where nothing need be
 * late, that is found several times sooner so. Where something must, a week then has the time to look again while it is hot;
 * what has more lines than a week has not. Small cases need the heat: it is what looks into every corner there.
 */
const ofBestCost = 0.25;
const mildUntil = 0.1;
/** Shares of the search at which it goes back to the best so far: later on it would not find the way there any more. */
const returns = [0.4, 0.6, 0.75];
/** Unit-days a hand minute counts, and what it counts when `cheapHandsFrom` of the search is over. */
const pricePerMinute = 0.8;
const lastPricePerMinute = 0.05;
const cheapHandsFrom = 0.8;
/** From here on only what is no worse is kept, beginning with the best so far, and hands are all but free. */
const polishFrom = 0.93;
const polishPricePerMinute = 1e-3;
/**
 * Where the best plan costs less lateness than so many days of the average order, so often and so long, as shares of the
 * search, it tries as in the end whether the rest can be had at once. In large quiet cases nothing is late much sooner so,
 * and more of the search is left to save hands.
 */
const nearlyNothing = 2;
const triesEvery = 0.2;
const tryLength = 0.06;
/**
 * Where the best plan is that good, and no better one was found for so long, the search insists on the orders that make up
 * so much of its lateness, until it goes back to its best for the last time: which order is given up is decided while it is
 * hot, and would not be taken back.
 */
const insistFrom = 0.05;
const insistAfter = 0.03;
const insistShare = 0.3;
const insistTimes = 20;
/**
 * Temperatures where all that is left to save is hands, as shares of what it takes to open a run: hands that are dear to the
 * end and colder moves find the least minutes, where cheap hands would lose them.
 */
const hotOpening = 0.5;
const coldOpening = 0.01;

export interface CoolingOptions {
  /** Whether the schedule is a good plan already, which is not to be lost. */
  readonly isGood: boolean;
  /** Whether no plan can cost less lateness, as far as is known by now. */
  readonly isLeast: (cost: number) => boolean;
}

/** How warm the search is, and what hands, molds and trays are worth in it, from its beginning to its end. */
export class Cooling {
  /** How much worse, in unit-days, a schedule may become by a move, on average. */
  temperature: number;
  isPolishing = false;
  readonly #schedule: Schedule;
  readonly #best: Best;
  readonly #isLeast: (cost: number) => boolean;
  readonly #scarcity: Scarcity;
  /** Share of all prices that counts in a case of this size. */
  readonly #priceShare: number;
  readonly #isSmall: boolean;
  readonly #perDay: number;
  readonly #start: number;
  readonly #end: number;
  #returned = 0;
  #isTrying = false;
  /** What the best costs, and the share of the search at which its late orders are to be insisted on: infinite where they are. */
  #seenCost = Number.POSITIVE_INFINITY;
  #insistAt = Number.POSITIVE_INFINITY;
  /** Share of the search at which the least lateness was known to be found. */
  #leastFrom: number | undefined;

  constructor(schedule: Schedule, best: Best, size: CaseSize, { isGood, isLeast }: CoolingOptions) {
    this.#schedule = schedule;
    this.#best = best;
    this.#isLeast = isLeast;
    this.#scarcity = new Scarcity(schedule);
    this.#priceShare = size.guidance;
    this.#isSmall = size.isSmall;
    this.#perDay = dayOfLateness(schedule.instance);
    const usually = Math.max(leastHot, hot * Math.min(1, hotLines / schedule.instance.lines));
    this.#start = this.#perDay * size.between(isGood ? warm : usually, smallCaseHot);
    this.#end = this.#perDay * cold;
    this.temperature = this.#start;
  }

  /** Goes back to the best schedule where that is due, and begins to polish it. To be called before every move. */
  turn(progress: number): void {
    if (this.isPolishing) return;
    if (progress >= polishFrom) {
      this.isPolishing = true;
      this.#schedule.insistNoMore();
      this.#schedule.restore(this.#best.cells);
      this.temperature = 0;
      this.#schedule.valueHands(polishPricePerMinute / ticksPerMinute);
    } else if (progress >= (returns[this.#returned] ?? 1)) {
      this.#returned += 1;
      if (this.#returned === returns.length) this.#schedule.insistNoMore();
      this.#schedule.restore(this.#best.cells);
      this.#schedule.revalue();
    }
  }

  /** Sets temperature and prices by how much of the search is over and what has been found. To be called now and then. */
  look(progress: number): void {
    if (this.isPolishing) return;
    const isLittleLate = this.#best.cost < nearlyNothing * this.#perDay;
    if (isLittleLate && !this.#isLeast(this.#best.cost)) this.#insist(progress);
    const wasTrying = this.#isTrying;
    this.#isTrying = progress > triesEvery && progress % triesEvery < tryLength && isLittleLate;
    // Also where only hands are left to save, which then goes on from its best at every fifth.
    if (this.#isTrying && !wasTrying) this.#schedule.restore(this.#best.cells);
    if (this.#isLeast(this.#best.cost)) this.#saveHands(progress);
    else if (this.#isTrying) {
      this.#schedule.valueHands(this.#price(polishPricePerMinute));
      this.temperature = 0;
    } else {
      this.#scarcity.value(this.#price(progress < cheapHandsFrom ? pricePerMinute : lastPricePerMinute));
      const hottest = this.#isMild(progress) ? ofBestCost * this.#best.cost : Number.POSITIVE_INFINITY;
      this.temperature = Math.min(
        hottest,
        this.#start * (this.#end / this.#start) ** (progress / polishFrom),
      );
    }
  }

  /** Insists on the orders that make up the lateness of the best schedule, each time that has stood for a while. */
  #insist(progress: number): void {
    const schedule = this.#schedule;
    const { cells, cost } = this.#best;
    if (cost < this.#seenCost) {
      this.#seenCost = cost;
      this.#insistAt = Math.max(insistFrom, progress + insistAfter);
    }
    if (progress < this.#insistAt || this.#isSmall || this.#returned === returns.length) return;
    this.#insistAt = Number.POSITIVE_INFINITY;
    const { orders } = schedule.instance;
    for (let order = 0; order < orders; order++) {
      const lateness = cells[schedule.orderCost + order]! / schedule.insistence[order]!;
      if (lateness >= insistShare * cost) schedule.insistOn(order, insistTimes);
    }
  }

  #isMild(progress: number): boolean {
    return !this.#isSmall && (progress < mildUntil || this.#schedule.instance.lines > hotLines);
  }

  /** All that is left to save is hands, wherever they are: a cooling of its own, from here to the end. */
  #saveHands(progress: number): void {
    const { cleanTicks, mixTicks } = this.#schedule.instance;
    if (this.#leastFrom === undefined) {
      this.#leastFrom = progress;
      this.#schedule.insistNoMore();
    }
    const done = (progress - this.#leastFrom) / (polishFrom - this.#leastFrom);
    const price = this.#price(pricePerMinute);
    this.#schedule.valueHands(price);
    this.temperature = price * (cleanTicks + mixTicks) * hotOpening * (coldOpening / hotOpening) ** done;
  }

  /** Unit-days a tick counts. */
  #price(perMinute: number): number {
    return (perMinute * this.#priceShare) / ticksPerMinute;
  }
}

/** Unit-days one day of lateness costs the average order that can cost anything. */
function dayOfLateness(instance: Instance): number {
  let sum = 0;
  let count = 0;
  for (let order = 0; order < instance.orders; order++) {
    const day = instance.orderWeight[order]! * instance.orderUnits[order]!;
    sum += day;
    if (day > 0) count += 1;
  }
  return count === 0 ? 1 : sum / count;
}
