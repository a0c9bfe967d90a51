/**
 * The value that a Student's t variable stays below with a probability.
 *
 * The distribution by the regularised incomplete beta function (NIST Handbook of Mathematical Functions, 8.17, whose
 * continued fraction 8.17.22 is used; the relation to t is 26.7.1 of Abramowitz and Stegun), inverted by halving.
 *
 * @param probability above 0.5 and below 1
 * @param degrees of freedom, above 0, not necessarily whole
 */
export function studentQuantile(probability: number, degrees: number): number {
  let low = 0;
  let high = 1;
  while (studentBelow(high, degrees) < probability && high < 1e12) high *= 2;
  for (let step = 0; step < 100; step += 1) {
    const middle = (low + high) / 2;
    if (studentBelow(middle, degrees) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function studentBelow(t: number, degrees: number): number {
  return 1 - incompleteBeta(degrees / (degrees + t * t), degrees / 2, 0.5) / 2;
}

/** I_x(a, b), 0 to 1. */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0 || x >= 1) return x <= 0 ? 0 : 1;
  const front = Math.exp(lnGamma(a + b) - lnGamma(a) - lnGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  // The fraction converges fast below the mean; above it the symmetry of the function is used.
  return x < (a + 1) / (a + b + 2)
    ? (front * betaFraction(x, a, b)) / a
    : 1 - (front * betaFraction(1 - x, b, a)) / b;
}

/** The continued fraction, by Lentz's method. */
function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  const notZero = (value: number) => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / notZero(1 - ((a + b) * x) / (a + 1));
  let value = d;
  for (let m = 1; m <= 500; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / notZero(1 + even * d);
    c = notZero(1 + even / c);
    value *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / notZero(1 + odd * d);
    c = notZero(1 + odd / c);
    const change = d * c;
    value *= change;
    if (Math.abs(change - 1) < 1e-15) break;
  }
  return value;
}

/** ln of the gamma function, above 0: Stirling's series (NIST Handbook, 5.11.1) where it is exact, by recurrence below. */
function lnGamma(x: number): number {
  let shift = 0;
  let at = x;
  for (; at < 12; at += 1) shift += Math.log(at);
  const square = at * at;
  const series =
    (1 / 12 - (1 / 360 - (1 / 1260 - (1 / 1680 - 1 / 1188 / square) / square) / square) / square) / at;
  return (at - 0.5) * Math.log(at) - at + Math.log(2 * Math.PI) / 2 + series - shift;
}
