export type WayOut = "parcel" | "local-round" | "collected" | "market-crate";

const names: Readonly<Record<WayOut, string>> = {
  parcel: "By parcel",
  "local-round": "On the local round",
  collected: "Collected here",
  "market-crate": "In the market crate",
};

/** The ways an order leaves, in words, in the order they are offered. */
export const waysOut = Object.entries(names).map(([value, label]) => ({ value, label }));

/** "By parcel, Heron Post, HP 4711": how it left, and what the shop noted of it. */
export function wayWords(way: {
  readonly how: WayOut;
  readonly carrier: string;
  readonly tracking: string;
}): string {
  return [names[way.how], way.carrier, way.tracking].filter((part) => part !== "").join(", ");
}
