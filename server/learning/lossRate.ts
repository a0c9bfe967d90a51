import { effectiveSize, recencyWeights, sumOf } from "./weights.ts";
import { type Spread, wilsonSpread } from "./wilson.ts";

/** What became of one batch of one product. */
export interface BatchLosses {
  /** All pieces that were pressed, at least 1. */
  readonly pressed: number;
  /** Of these not fit to be sold in the end. */
  readonly lost: number;
}

/** What share of the pressed pieces is lost, and what that rests on. */
export interface LossRate extends Spread {
  /** 0 to 1: all pieces count, those of older batches less. */
  readonly share: number;
  readonly batches: number;
  readonly pressed: number;
  readonly lost: number;
}

/**
 * The share of pieces a product loses, from its batches. Its spread is Wilson's, for as many pieces as the weighted ones
 * are worth; where the batches differ more than chance would have it, as where one batch fails as a whole, they are worth
 * fewer: by Pearson's dispersion, never below 1 (McCullagh and Nelder, Generalized Linear Models, 2nd edition 1989,
 * section 4.5; from memory).
 *
 * @param batches the newest first
 * @returns null without a batch.
 */
export function lossRate(batches: readonly BatchLosses[]): LossRate | null {
  if (batches.length === 0) return null;
  const weights = recencyWeights(batches.length);
  const weightOf = (place: number) => weights[place] ?? 0;
  const pressed = sumOf(batches, (batch, place) => weightOf(place) * batch.pressed);
  const share = sumOf(batches, (batch, place) => weightOf(place) * batch.lost) / pressed;
  // Each piece has its batch's weight.
  const squares = sumOf(batches, (batch, place) => weightOf(place) ** 2 * batch.pressed);
  const size = pressed ** 2 / squares / dispersion(batches, weights, share);
  return {
    share,
    ...wilsonSpread(share, size),
    batches: batches.length,
    pressed: sumOf(batches, (batch) => batch.pressed),
    lost: sumOf(batches, (batch) => batch.lost),
  };
}

function dispersion(batches: readonly BatchLosses[], weights: readonly number[], share: number): number {
  const freedom = effectiveSize(weights) - 1;
  const variance = share * (1 - share);
  if (freedom <= 0 || variance === 0) return 1;
  const total = sumOf(weights, (weight) => weight);
  const pearson = sumOf(batches, ({ pressed, lost }, place) => {
    const away = lost - pressed * share;
    return ((weights[place] ?? 0) * away * away) / (pressed * variance);
  });
  return Math.max(1, ((pearson / total) * (freedom + 1)) / freedom);
}
