/** Air as a thermometer and a hygrometer tell it. */
export interface Air {
  /** 0 to 50: what a workshop can be. */
  readonly celsius: number;
  /** Relative humidity, 0 to 1. */
  readonly humidity: number;
}

/**
 * The pressure of water vapour in saturated air over liquid water, in pascals: the formula of Hyland and Wexler (1983) as
 * ASHRAE Handbook of Fundamentals 2017 gives it, chapter 1, equation 6.
 *
 * @param celsius 0 to 200
 */
export function saturationPascals(celsius: number): number {
  const t = celsius + 273.15;
  const [c8, c9, c10, c11, c12, c13] = [
    -5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673,
  ] as const;
  return Math.exp(c8 / t + c9 + c10 * t + c11 * t ** 2 + c12 * t ** 3 + c13 * Math.log(t));
}

/** How much vapour the air could still take up, in pascals: what water evaporates by (Dalton's law of evaporation, 1802). */
export function vapourDeficit({ celsius, humidity }: Air): number {
  return saturationPascals(celsius) * (1 - humidity);
}

/** The least and the most a plan multiplies drying by. */
export const LEAST_FACTOR = 0.25;
export const MOST_FACTOR = 10;

/**
 * How many times as long as on the reference day drying takes, if water left at the pace of the vapour deficit: a
 * suggestion, since what else leaves a piece, and how fast water comes from its middle, is not in it.
 *
 * @param ratio what drying really took against this formula; 1 before it is known
 * @returns in twentieths, from 0.25 to 10; 10 in saturated air, in which nothing dries.
 */
export function suggestedFactor(air: Air, reference: Air, ratio: number): number {
  const deficit = vapourDeficit(air);
  const factor = deficit <= 0 ? MOST_FACTOR : (ratio * vapourDeficit(reference)) / deficit;
  return Math.min(MOST_FACTOR, Math.max(LEAST_FACTOR, Math.round(factor * 20) / 20));
}
