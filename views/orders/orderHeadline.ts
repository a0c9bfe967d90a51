import { dayWords } from "../format/dates.ts";
import { counted, pieces, wholeWords } from "../format/quantities.ts";
import type { ShownOrder } from "./OrderPage.tsx";

/** The state of one order in a sentence: "W-104 for The Lamplit Otter: 24 of 36 pieces packed, due by Friday 5 March." */
export function orderHeadline(order: ShownOrder): string {
  return `${order.reference} for ${order.customer}: ${stateSentence(order)}.`;
}

function stateSentence(order: ShownOrder): string {
  const { state, promptness } = order;
  const all = sum(order, "units");
  const day = dayWords(order.shipBy);
  switch (state) {
    case "draft":
      return `a draft of ${pieces(all)}, to ship by ${day} once it is confirmed`;
    case "confirmed":
    case "packing":
      return `${packedWords(order, all)}, ${promptness.kind === "late" ? `late by ${counted(promptness.days, "day")}` : promptness.kind === "today" ? "due today" : `due by ${day}`}`;
    case "packed":
      return `${pieces(sum(order, "packed"))} packed and waiting to leave by ${day}`;
    case "shipped":
      return `${pieces(sum(order, "shipped"))} on the way`;
    case "delivered":
      return `${pieces(sum(order, "shipped"))} delivered`;
    case "cancelled":
      return "cancelled";
  }
}

function packedWords(order: ShownOrder, all: number): string {
  const packed = sum(order, "packed");
  const shipped = sum(order, "shipped");
  const away = shipped > 0 ? `, ${wholeWords(shipped)} of them shipped` : "";
  return packed === 0 ? `${pieces(all)} to pack` : `${wholeWords(packed)} of ${pieces(all)} packed${away}`;
}

function sum(order: ShownOrder, of: "units" | "packed" | "shipped"): number {
  return order.lines.reduce((total, line) => total + line[of], 0);
}
