/*
 * Which lots are used up first: those that expire first, of these the one that came first (FEFO, as stock is usually
 * turned; common practice, no source). What is past its last good day is never taken by itself: whether it is still
 * good is for somebody to judge who has it in hand, and who then says so by choosing it.
 */

/** A lot with something in it. Amounts are whole milligrams or pieces, dates are ISO 8601. */
export interface LotOnHand {
  readonly lotId: number;
  readonly amount: number;
  readonly receivedOn: string;
  /** The last day on which it is good; null: it does not expire. */
  readonly expiresOn: string | null;
  /** Nothing more is taken of it, not even by choice. */
  readonly recalled?: boolean;
}

export interface LotTake {
  readonly lotId: number;
  /** More than nothing. */
  readonly amount: number;
}

export interface Taken {
  readonly takes: readonly LotTake[];
  /** What no lot had. */
  readonly beyond: number;
}

/** Whether a lot may still be used on a day. */
export function isGoodOn(lot: Pick<LotOnHand, "expiresOn" | "recalled">, day: string): boolean {
  return lot.recalled !== true && !isPast(lot, day);
}

/** Whether a day is past a lot's last good one. */
export function isPast({ expiresOn }: Pick<LotOnHand, "expiresOn">, day: string): boolean {
  return expiresOn !== null && expiresOn < day;
}

/** The order in which lots are to be used up. */
export function firstExpiredFirst(one: Omit<LotOnHand, "amount">, other: Omit<LotOnHand, "amount">): number {
  return (
    compared(one.expiresOn ?? NEVER, other.expiresOn ?? NEVER) ||
    compared(one.receivedOn, other.receivedOn) ||
    one.lotId - other.lotId
  );
}

/**
 * Takes `amount` from the lots that are good on `day`, first expired first out.
 *
 * @param chosen lots somebody wants to be taken first, in this order, past their day or not; not recalled ones
 */
export function takeFefo(
  amount: number,
  lots: readonly LotOnHand[],
  day: string,
  chosen: readonly number[] = [],
): Taken {
  const wanted = chosen.flatMap((lotId) =>
    lots.filter((lot) => lot.lotId === lotId && lot.recalled !== true),
  );
  const others = lots
    .filter((lot) => !chosen.includes(lot.lotId) && isGoodOn(lot, day))
    .toSorted(firstExpiredFirst);
  const takes: LotTake[] = [];
  let beyond = amount;
  for (const lot of [...wanted, ...others]) {
    const taken = Math.min(beyond, lot.amount);
    if (taken > 0) takes.push({ lotId: lot.lotId, amount: taken });
    beyond -= taken;
  }
  return { takes, beyond };
}

/** Later than any date. */
const NEVER = "9999-12-31";

function compared(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
