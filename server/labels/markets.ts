/** Whose rules a label is held against; with "none", nothing is claimed. */
export const markets = ["us", "eu", "uk", "none"] as const;

export type Market = (typeof markets)[number];
