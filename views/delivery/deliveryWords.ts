import { counted } from "../format/quantities.ts";
import type { NamedParcel } from "./parcelWords.ts";

export type WayOut = "parcel" | "local-round" | "collected" | "market-crate";

const names: Readonly<Record<WayOut, string>> = {
  parcel: "By parcel",
  "local-round": "On the local round",
  collected: "Collected here",
  "market-crate": "In the market crate",
};

/** The ways an order leaves, in words, in the order they are offered. */
export const waysOut = Object.entries(names).map(([value, label]) => ({ value, label }));

/** "By parcel, Heron Post, HP 4711": how it left, and who carries which numbers. */
export function wayWords({
  how,
  parcels,
}: {
  readonly how: WayOut;
  readonly parcels: readonly NamedParcel[];
}): string {
  const carried = parcels.map(({ carrier, tracking }) =>
    [carrier, tracking].filter((part) => part !== "").join(", "),
  );
  const counts = parcels.length > 1 ? [counted(parcels.length, "parcel")] : [];
  return [names[how], ...counts, ...carried.filter((words) => words !== "")].join(", ");
}
