/*
 * Nether Puddle as the van sees it. The coordinates are invented and lie in the open sea, far from any shop.
 */

/** Where the workshop is (no customer) and two shops nearby, in microdegrees. */
export const sampleRoundPlaces = [
  { customer: null, latitudeMicro: 12_000, longitudeMicro: -21_000 },
  { customer: "The Lamplit Otter", latitudeMicro: 21_500, longitudeMicro: -9_000 },
  { customer: "The Teaspoon Museum Shop", latitudeMicro: 4_000, longitudeMicro: -3_500 },
] as const;

/** The swing bridge between the two shops takes longer than the distance tells. */
export const sampleRoundMinutes = {
  from: "The Lamplit Otter",
  to: "The Teaspoon Museum Shop",
  minutes: 17,
} as const;

export const sampleDriving = {
  kilometresAnHour: 25,
  roadPercent: 140,
  doorMinutes: 6,
  leavesMinute: 570,
} as const;
