/** Where something lies, and how sure that is: in nine cases of ten between `low` and `high`. */
export interface Spread {
  readonly low: number;
  readonly high: number;
}

/** The normal deviate that leaves one twentieth above it: two such tails leave nine tenths between. */
export const NINE_TENTHS = 1.644853626951472;

/**
 * Wilson's interval for a share seen in a sample: the shares that a score test would not refuse. Unlike the plain normal
 * interval it never leaves 0 to 1, and says something of a sample in which nothing was lost.
 *
 * E. B. Wilson, Probable inference, the law of succession, and statistical inference, Journal of the American
 * Statistical Association 22 (1927), 209-212; NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.4.1.
 *
 * @param share 0 to 1
 * @param size above 0, not necessarily whole
 * @param deviate of the standard normal distribution, such as 1.96 for nineteen cases of twenty
 */
export function wilsonSpread(share: number, size: number, deviate = NINE_TENTHS): Spread {
  const squared = deviate * deviate;
  const middle = share + squared / (2 * size);
  const half = deviate * Math.sqrt((share * (1 - share)) / size + squared / (4 * size * size));
  const whole = 1 + squared / size;
  return { low: Math.max(0, (middle - half) / whole), high: Math.min(1, (middle + half) / whole) };
}
