import { scaleTo } from "../recipes/scale.ts";

/*
 * What is to be mixed and packed, taken apart into what it needs. Amounts are whole milligrams of what goes into a
 * bowl, whole pieces of what is packed with.
 */

export interface MixPart {
  readonly supplyId: number;
  readonly milligramsPerKilogram: number;
}

export interface PackingPart {
  readonly supplyId: number;
  readonly amount: number;
  /** So many pieces share it; begun ones count. */
  readonly forPieces: number;
}

export interface ExplodedNeed {
  readonly supplyId: number;
  /** More than nothing. */
  readonly amount: number;
}

/**
 * What so much mix takes of each supply, an ingredient that is stirred in twice added up: as it is weighed out on a
 * scale that shows milligrams, so that page, paper and ledger come to the same.
 */
export function weighOut(parts: readonly MixPart[], mixMilligrams: number): readonly ExplodedNeed[] {
  const { partMilligrams } = scaleTo(
    parts.map(({ milligramsPerKilogram }) => milligramsPerKilogram),
    mixMilligrams,
    1,
  );
  return summed(parts.map(({ supplyId }, place) => ({ supplyId, amount: partMilligrams[place] ?? 0 })));
}

/** What so many pieces of one order line are packed with. */
export function packWith(parts: readonly PackingPart[], pieces: number): readonly ExplodedNeed[] {
  return summed(
    parts.map(({ supplyId, amount, forPieces }) => ({
      supplyId,
      amount: Math.ceil(pieces / forPieces) * amount,
    })),
  );
}

function summed(needs: readonly ExplodedNeed[]): readonly ExplodedNeed[] {
  const sums = new Map<number, number>();
  for (const { supplyId, amount } of needs) sums.set(supplyId, (sums.get(supplyId) ?? 0) + amount);
  return [...sums].map(([supplyId, amount]) => ({ supplyId, amount })).filter(({ amount }) => amount > 0);
}

/** A run, or mix that somebody will have to make: how much, by which parts, on which date. */
export interface DatedMix<What> {
  readonly on: string;
  readonly mixMilligrams: number;
  readonly parts: readonly MixPart[];
  /** What it is for. */
  readonly what: What;
}

/** So much of a supply on a date, and what it is for. */
export interface NeedFor<What> extends ExplodedNeed {
  readonly on: string;
  readonly what: What;
}

/** What mixes need of each supply, in the order of the mixes: each is weighed out by itself. */
export function explodeMixes<What>(mixes: readonly DatedMix<What>[]): readonly NeedFor<What>[] {
  return mixes.flatMap(({ on, mixMilligrams, parts, what }) =>
    weighOut(parts, mixMilligrams).map((need) => ({ ...need, on, what })),
  );
}
