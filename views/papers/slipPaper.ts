import type { DeliveryOnPaper } from "../delivery/DeliveryPage.tsx";
import { wayWords } from "../delivery/deliveryWords.ts";
import { parcelWords } from "../delivery/parcelWords.ts";
import { dateOf, dayWords } from "../format/dates.ts";
import { pieces, wholeWords } from "../format/quantities.ts";
import type { Paper, PaperShop } from "./paper.ts";

/** What goes into the box with a delivery: which pieces of which lots, and what is still to come; no prices. */
export function slipPaper(
  delivery: DeliveryOnPaper,
  { shop, timeZone }: { readonly shop: PaperShop; readonly timeZone: string },
): Paper {
  const leftOn = dateOf(delivery.shippedAt, timeZone);
  return {
    name: "Packing slip",
    number: delivery.reference,
    dated: leftOn,
    shop,
    to: { name: delivery.customer, address: delivery.address },
    facts: [
      ["Order", delivery.reference],
      ["Left us", dayWords(leftOn, { year: true })],
      ["Sent", wayWords({ how: delivery.how, parcels: [] })],
      ...delivery.parcels.map(
        (parcel, place) =>
          [
            delivery.parcels.length > 1 ? `Parcel ${place + 1} of ${delivery.parcels.length}` : "Parcel",
            parcelWords(parcel, delivery.inOunces),
          ] as const,
      ),
      ...(delivery.part > 1 ? [["Delivery", `no. ${delivery.part} of this order`] as const] : []),
    ],
    columns: [
      { name: "Product", number: false },
      { name: "Lots", number: false },
      { name: "Ordered", number: true },
      { name: "In this delivery", number: true },
    ],
    rows: delivery.lines
      .filter((line) => line.lots.length > 0)
      .map(({ product, look, ordered, lots }) => ({
        look,
        cells: [
          { words: product },
          { words: lotWords(lots) },
          { words: wholeWords(ordered) },
          { words: wholeWords(lots.reduce((sum, lot) => sum + lot.units, 0)) },
        ],
      })),
    sums: [{ name: "Pieces in this delivery", words: wholeWords(delivery.units), strong: true }],
    notes: [
      restWords(delivery),
      "Keep the pieces dry until they are used, and please name the lot with any question.",
    ],
    signatures: ["Packed by", "Counted and received"],
  };
}

/** "K7Q", or "10 of K7Q, 2 of D4R" where there are several. */
function lotWords(lots: DeliveryOnPaper["lines"][number]["lots"]): string {
  return lots
    .map(({ lotCode, units }) => (lots.length > 1 ? `${wholeWords(units)} of ${lotCode}` : lotCode))
    .join(", ");
}

/** What the customer still waits for, or will not get. */
function restWords({ terms, lines }: DeliveryOnPaper): string {
  const short = lines.filter((line) => line.sentSoFar < line.ordered);
  if (short.length === 0) return "With this delivery the order is complete.";
  const list = short.map((line) => `${wholeWords(line.ordered - line.sentSoFar)} ${line.product}`).join(", ");
  const total = pieces(short.reduce((sum, line) => sum + line.ordered - line.sentSoFar, 0));
  return terms === "as-ready" ? `Still to come, ${total}: ${list}.` : `Left without ${total}: ${list}.`;
}
