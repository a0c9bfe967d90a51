/** Where the current instant comes from, so that a test can say what time it is. */
export interface Clock {
  now(): Date;
}

export const systemClock: Clock = { now: () => new Date() };
