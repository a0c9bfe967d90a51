/*
 * How promises were kept: what a customer was told, and what left the workshop when. Dates are ISO 8601 calendar dates of
 * the workshop, counts are pieces. Pure.
 */

/** A promise as it was made: so many pieces of each product by its date. */
export interface PromiseMade {
  readonly madeOn: string;
  readonly shipBy: string;
  readonly lines: readonly { readonly productId: number; readonly units: number }[];
}

/** Pieces of one product that left on one day. */
export interface PiecesLeft {
  readonly leftOn: string;
  readonly productId: number;
  readonly units: number;
}

/**
 * The promise an order is held to: the last one that was made while the one before still stood. One that was made after
 * that date had gone by heals nothing, nor does any later one.
 *
 * @param made oldest first, at least one
 */
export function promiseThatCounts<Made extends PromiseMade>(made: readonly Made[]): Made {
  const [first, ...later] = made;
  if (!first) throw new Error("An order that was confirmed has a promise");
  let counts = first;
  for (const next of later) {
    if (next.madeOn > counts.shipBy) return counts;
    counts = next;
  }
  return counts;
}

/** One product of a promise beside what became of it. */
export interface KeptLine {
  readonly productId: number;
  readonly promised: number;
  /** Pieces that left by the date. */
  readonly inTime: number;
  /** Pieces that left after it. */
  readonly later: number;
  /** When the last of them left; null: nothing has. */
  readonly lastLeftOn: string | null;
}

export function keptLines(promise: PromiseMade, left: readonly PiecesLeft[]): readonly KeptLine[] {
  return promise.lines.map(({ productId, units }) => {
    const own = left.filter((pieces) => pieces.productId === productId);
    const sum = (some: readonly PiecesLeft[]) => some.reduce((total, pieces) => total + pieces.units, 0);
    return {
      productId,
      promised: units,
      inTime: sum(own.filter(({ leftOn }) => leftOn <= promise.shipBy)),
      later: sum(own.filter(({ leftOn }) => leftOn > promise.shipBy)),
      lastLeftOn:
        own
          .map(({ leftOn }) => leftOn)
          .toSorted()
          .at(-1) ?? null,
    };
  });
}

export type Verdict = "on-time" | "late" | "not-due";

/** On time when all its pieces left by its date; late when that has gone by and they have not, whatever came after. */
export function verdictOf(promise: PromiseMade, lines: readonly KeptLine[], today: string): Verdict {
  if (lines.every(({ promised, inTime }) => inTime >= promised)) return "on-time";
  return today > promise.shipBy ? "late" : "not-due";
}

/** An order as far as its promise is concerned. */
export interface JudgedOrder {
  readonly customerId: number;
  readonly shipBy: string;
  readonly verdict: Verdict;
}

/** Orders on time, of those that were due; `of` is never less than `kept`. */
export interface Kept {
  readonly kept: number;
  readonly of: number;
}

/** The rate of the orders whose date is in one month, such as "2027-03"; "": in any. */
export function keptIn(orders: readonly JudgedOrder[], month: string): Kept {
  const due = orders.filter(({ verdict, shipBy }) => verdict !== "not-due" && shipBy.startsWith(month));
  return { kept: due.filter(({ verdict }) => verdict === "on-time").length, of: due.length };
}
