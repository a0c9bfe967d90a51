import { pieces, wholeWords } from "../format/quantities.ts";
import { shortened } from "./cardWords.ts";

/** One box of an order, as its card names it. */
export interface BoxCard {
  readonly number: number;
  readonly of: number;
  readonly reference: string;
  readonly customer: string;
  readonly units: number;
  readonly content: readonly {
    readonly units: number;
    readonly product: string;
    readonly lotCode: string | null;
  }[];
}

export type BoxCardRole = "box" | "order" | "pieces" | "lots";

/**
 * The words of a box's card, from above.
 *
 * @param lots so many lots are named; of more than that is said how many more there are
 */
export function boxCardWords(box: BoxCard, lots: number): readonly (readonly [BoxCardRole, string])[] {
  const named = box.content.slice(0, lots);
  const more = box.content.length - named.length;
  return [
    ["box", `Box ${box.number} of ${box.of}`],
    ["order", shortened(`${box.reference} ${box.customer}`)],
    ["pieces", pieces(box.units)],
    ...named.map(
      ({ units, product, lotCode }) =>
        ["lots", shortened(`${wholeWords(units)} ${lotCode ?? ""} ${product}`)] as const,
    ),
    ...(more > 0 ? [["lots", `and ${wholeWords(more)} more on the packing slip`] as const] : []),
  ];
}
