/** Milliseconds of the wall clock for which a reading holds: asking the system takes longer than a small move does. */
const freshFor = 0.5;

let readAt = Number.NEGATIVE_INFINITY;
let reading = 0;

/**
 * Seconds of the processor this process has used. Unlike those of the wall clock they don't pass while other processes
 * have the core, so that a busy machine gives the same results as a quiet one, only later.
 */
export function processorSeconds(): number {
  const now = performance.now();
  if (now - readAt >= freshFor) {
    const { user, system } = process.cpuUsage();
    reading = (user + system) / 1_000_000;
    readAt = now;
  }
  return reading;
}
