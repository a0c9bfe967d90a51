/** The k of y = c * x^k that fits the points best, by least squares on their logarithms. All numbers must be above 0. */
export function exponent(points: readonly (readonly [x: number, y: number])[]): number {
  const logs = points.map(([x, y]) => [Math.log(x), Math.log(y)] as const);
  const mean = (at: 0 | 1) => logs.reduce((sum, log) => sum + log[at], 0) / logs.length;
  const meanX = mean(0);
  const meanY = mean(1);
  const together = logs.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0);
  const alone = logs.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
  return together / alone;
}
