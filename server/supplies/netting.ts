import { firstExpiredFirst, isGoodOn, type LotOnHand, takeFefo } from "./fefo.ts";

/*
 * What to buy of one supply, and when: what is needed, date by date, less what is there and still good and what is on
 * its way. This is the netting of material requirements planning, with dates for its periods and lots that expire.
 * Amounts are whole milligrams or pieces, dates are ISO 8601 and compare as text.
 */

export interface DatedAmount {
  readonly on: string;
  readonly amount: number;
}

/** How a supply is bought. */
export interface LotRule {
  /** What one pack holds; 1: any amount may be had. */
  readonly packAmount: number;
  /** Packs one has to take at least. */
  readonly leastPacks: number;
  /** One purchase covers the net needs of so many days, from the first of them on; 1: each day is bought for by itself. */
  readonly coverDays: number;
  /** What should still be there after every need. */
  readonly leastOnHand: number;
}

export interface SupplyBooks {
  readonly lots: readonly LotOnHand[];
  /** Used beyond what the lots had, and settled by no count yet: it is owed to the next that comes. */
  readonly beyond: number;
  /** On its way, by the date it should be here; what is overdue is expected on the first day. */
  readonly expected: readonly DatedAmount[];
}

/** A purchase that has to be made. */
export interface PlannedPurchase {
  /** The date on which it has to be here. */
  readonly neededOn: string;
  readonly packs: number;
  readonly amount: number;
}

/** How a date with a need ends. */
export interface NettedDate {
  readonly on: string;
  readonly needed: number;
  /** What comes that was ordered before. */
  readonly expected: number;
  /** What is bought to be there. */
  readonly bought: number;
  /** What is there at its end and good on it; negative: so much is missing, where nothing is bought. */
  readonly left: number;
}

export interface Netted {
  readonly dates: readonly NettedDate[];
  readonly purchases: readonly PlannedPurchase[];
}

/**
 * Goes through the dates in order. What comes on a date may be used on it. Where a need would bring what is good below
 * what should be there, a purchase is planned for that date: as much as the net needs of its cover take, in whole
 * packs, no fewer than one has to take. What is bought is good for as long as anybody looks ahead.
 */
export function netSupply(
  needs: readonly DatedAmount[],
  books: SupplyBooks,
  rule: LotRule,
  from: string,
): Netted {
  const dates = datesOf(needs, books.expected, from);
  const stock = new Stock(books, from);
  const netted: NettedDate[] = [];
  const purchases: PlannedPurchase[] = [];
  for (const [place, on] of dates.entries()) {
    const needed = sumOn(needs, on, from);
    const expected = sumOn(books.expected, on, from);
    stock.add(expected);
    stock.startDay(on);
    const short = needed + rule.leastOnHand - stock.good();
    let bought = 0;
    if (short > 0 && (needed > 0 || place === 0)) {
      const covered = coveredNet(dates, place, needs, books.expected, stock.copy(), rule, from);
      const packs = Math.max(rule.leastPacks, Math.ceil(Math.max(short, covered) / rule.packAmount));
      bought = packs * rule.packAmount;
      purchases.push({ neededOn: on, packs, amount: bought });
      stock.add(bought);
    }
    stock.take(needed, on);
    netted.push({ on, needed, expected, bought, left: stock.good() });
  }
  return { dates: netted, purchases };
}

/** The same without buying anything: what is there at the end of each date, negative by what is missing. */
export function withoutBuying(
  needs: readonly DatedAmount[],
  books: SupplyBooks,
  from: string,
): readonly NettedDate[] {
  const stock = new Stock(books, from);
  return datesOf(needs, books.expected, from).map((on) => {
    const needed = sumOn(needs, on, from);
    const expected = sumOn(books.expected, on, from);
    stock.add(expected);
    stock.startDay(on);
    stock.take(needed, on);
    return { on, needed, expected, bought: 0, left: stock.good() };
  });
}

/**
 * The last day on which one can order so that it is here on `neededOn`: so many days before, or the ordering day of the
 * week before that. It may have gone by already.
 *
 * @param orderWeekdays ISO 8601, 1 Monday .. 7 Sunday; empty: any day
 */
export function orderBy(neededOn: string, deliveryDays: number, orderWeekdays: readonly number[]): string {
  const latest = daysFrom(neededOn, -deliveryDays);
  if (orderWeekdays.length === 0) return latest;
  for (let back = 0; back < 7; back += 1) {
    const day = daysFrom(latest, -back);
    if (orderWeekdays.includes(weekdayOf(day))) return day;
  }
  return latest;
}

/** When something that is ordered on `today` or on the next ordering day is here. */
export function hereWhenOrdered(
  today: string,
  deliveryDays: number,
  orderWeekdays: readonly number[],
): string {
  for (let ahead = 0; ahead < 7; ahead += 1) {
    const day = daysFrom(today, ahead);
    if (orderWeekdays.length === 0 || orderWeekdays.includes(weekdayOf(day)))
      return daysFrom(day, deliveryDays);
  }
  return daysFrom(today, deliveryDays);
}

/** What the net needs of one purchase's cover come to, where what is there and on its way is used up first. */
function coveredNet(
  dates: readonly string[],
  place: number,
  needs: readonly DatedAmount[],
  expected: readonly DatedAmount[],
  stock: Stock,
  rule: LotRule,
  from: string,
): number {
  const first = dates[place] ?? from;
  const last = daysFrom(first, rule.coverDays - 1);
  let missing = 0;
  for (const on of dates.slice(place).filter((date) => date <= last)) {
    if (on > first) {
      stock.add(sumOn(expected, on, from));
      stock.startDay(on);
    }
    const short = sumOn(needs, on, from) + rule.leastOnHand - stock.good();
    if (short > 0) {
      missing += short;
      stock.add(short);
    }
    stock.take(sumOn(needs, on, from), on);
  }
  return missing;
}

/** What is there, as the days go by. */
class Stock {
  #lots: readonly LotOnHand[];
  /** What came later: good for as long as anybody looks ahead, so it is used last. Negative: missing. */
  #later: number;

  constructor(books: Pick<SupplyBooks, "lots" | "beyond">, from: string) {
    // What is owed comes off what would be used first: on the safe side until somebody has counted.
    const { takes, beyond } = takeFefo(books.beyond, books.lots, from);
    const taken = new Map(takes.map(({ lotId, amount }) => [lotId, amount]));
    this.#lots = books.lots
      .map((lot) => ({ ...lot, amount: lot.amount - (taken.get(lot.lotId) ?? 0) }))
      .filter(({ amount }) => amount > 0)
      .toSorted(firstExpiredFirst);
    this.#later = -beyond;
  }

  copy(): Stock {
    const other = new Stock({ lots: [], beyond: 0 }, "");
    other.#lots = this.#lots;
    other.#later = this.#later;
    return other;
  }

  /** What is past its last good day is there no more. */
  startDay(on: string): void {
    this.#lots = this.#lots.filter((lot) => isGoodOn(lot, on));
  }

  add(amount: number): void {
    this.#later += amount;
  }

  take(amount: number, on: string): void {
    const { takes, beyond } = takeFefo(amount, this.#lots, on);
    const taken = new Map(takes.map((take) => [take.lotId, take.amount]));
    this.#lots = this.#lots
      .map((lot) => ({ ...lot, amount: lot.amount - (taken.get(lot.lotId) ?? 0) }))
      .filter(({ amount: left }) => left > 0);
    this.#later -= beyond;
  }

  good(): number {
    return this.#lots.reduce((sum, { amount }) => sum + amount, this.#later);
  }
}

/** Every date on which something is needed or comes, the first day too: what is overdue counts on it. */
function datesOf(
  needs: readonly DatedAmount[],
  expected: readonly DatedAmount[],
  from: string,
): readonly string[] {
  const dates = [...needs, ...expected].map(({ on }) => (on < from ? from : on));
  return [...new Set([from, ...dates])].toSorted();
}

function sumOn(amounts: readonly DatedAmount[], on: string, from: string): number {
  return amounts.reduce(
    (sum, one) => (one.on === on || (on === from && one.on < from) ? sum + one.amount : sum),
    0,
  );
}

const DAY_MS = 86_400_000;

function daysFrom(isoDate: string, days: number): string {
  return new Date(Date.parse(`${isoDate}T12:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);
}

/** ISO 8601: 1 Monday .. 7 Sunday. */
function weekdayOf(isoDate: string): number {
  return new Date(`${isoDate}T12:00:00Z`).getUTCDay() || 7;
}
