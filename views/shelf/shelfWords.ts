import type { LedgerMove, LotFacts, ShelfLot } from "../../server/shelf/queries.ts";
import { counted, pieces, wholeWords } from "../format/quantities.ts";

/** "96 pieces stand on the shelf in 5 lots; 60 are drying or resting." */
export function shelfSentence(lots: readonly ShelfLot[]): string {
  const ready = lots.filter((lot) => lot.state === "ready");
  const [onShelf, lying] = [unitsOf(ready), unitsOf(lots) - unitsOf(ready)];
  const boxed = lots.flatMap((lot) => lot.boxed).reduce((sum, { units }) => sum + units, 0);
  const stopped = unitsOf(lots.filter((lot) => lot.stops.length > 0));
  const full = ready.filter((lot) => lot.units > 0).length;
  const parts = [
    onShelf === 0 ? "The shelf is empty" : `${pieces(onShelf)} on the shelf in ${counted(full, "lot")}`,
    stopped > 0 ? `${wholeWords(stopped)} not to be packed` : "",
    boxed > 0 ? `${pieces(boxed)} packed and waiting to leave` : "",
    lying > 0 ? `${pieces(lying)} drying or resting` : "",
  ];
  return `${parts.filter((part) => part !== "").join("; ")}.`;
}

/** "Lot K7Q9 has 24 pieces on the shelf." */
export function lotSentence({ code, state, units, plannedUnits }: LotFacts): string {
  switch (state) {
    case "planned":
      return `Lot ${code} is planned: ${pieces(plannedUnits ?? 0)}.`;
    case "mixing":
      return `Lot ${code} is being mixed and pressed: ${pieces(plannedUnits ?? 0)} planned.`;
    case "withdrawn":
      return `Lot ${code} was never pressed.`;
    case "ready":
      return units === 0 ? `Lot ${code} is used up.` : `Lot ${code} has ${pieces(units)} on the shelf.`;
    default:
      return `Lot ${code} has ${pieces(units)} ${state}.`;
  }
}

/** What a move did, such as "packed for W-104" or "lost, cracked". */
export function moveWords({ kind, cause, order }: LedgerMove): string {
  switch (kind) {
    case "made":
      return "made";
    case "packed":
      return `packed for ${order}`;
    case "unpacked":
      return `taken out of the box for ${order}`;
    case "lost":
      return `lost, ${cause === null ? "" : causeWords[cause]}`;
    case "counted":
      return "put right by a count";
    case "returned":
      return "came home";
  }
}

export const causeWords: Record<NonNullable<LedgerMove["cause"]>, string> = {
  cracked: "cracked",
  stuck: "stuck in the mold",
  swollen: "swollen",
  sample: "kept as sample",
};

export function unitsOf(lots: readonly Pick<ShelfLot, "units">[]): number {
  return lots.reduce((sum, lot) => sum + lot.units, 0);
}
