import type { GatheredList } from "../../server/packing/gatheredList.ts";
import { dateOf, dayWords, momentWords } from "../format/dates.ts";
import { spelled, wholeWords } from "../format/quantities.ts";
import { capitalised } from "../format/sentence.ts";
import type { Paper } from "../papers/paper.ts";

/** The gathered list for the walk along the shelf: a tick for each lot that was taken and each order it was put to. */
export function gatheredPaper(
  { orders, takes }: GatheredList,
  { shopName, now, timeZone }: { readonly shopName: string; readonly now: Date; readonly timeZone: string },
): Paper {
  const today = dateOf(now, timeZone);
  const chosen = orders.filter(({ isChosen }) => isChosen);
  return {
    ...{ name: "Gathered list", number: today, dated: today },
    // It stays in the house: neither address nor bank are of use on it.
    shop: { name: shopName, address: "", taxNumber: "", foot: [] },
    to: { heading: "For", name: capitalised(spelled(chosen.length, "order")), address: "" },
    facts: [["As of", momentWords(now, timeZone)]],
    columns: [
      { name: "Place", number: false },
      { name: "Take", number: true },
      { name: "Lot", number: false, wide: true },
      { name: "For", number: false },
    ],
    rows: takes.map(({ shelfPlace, units, code, product, look, for: whom }) => ({
      look,
      cells: [
        { words: shelfPlace || "no place", ticked: true },
        { words: wholeWords(units) },
        { words: code, aside: product },
        {
          words: whom.map((part) => `${wholeWords(part.units)} for ${part.reference}`).join("\n"),
          ticked: true,
        },
      ],
    })),
    sums: [
      {
        name: "Pieces to take",
        words: wholeWords(takes.reduce((sum, { units }) => sum + units, 0)),
        strong: true,
      },
    ],
    notes: [
      ...chosen.map(
        ({ reference, customer, shipBy }) => `${reference}, ${customer}: leaves by ${dayWords(shipBy)}.`,
      ),
      "What was packed, lost or put on hold since then is not on this paper.",
    ],
    signatures: ["Gathered by"],
  };
}
