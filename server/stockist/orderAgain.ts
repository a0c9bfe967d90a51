import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import type { ShownShopOrder } from "./shopOrders.ts";
import type { ShopRange } from "./shopRange.ts";

/** The form of a new order with the pieces of an older one; its dates, number and note are the new one's own. */
export function sameAgain({ lines }: ShownShopOrder): FormAnswer {
  return freshForm({
    product: lines.map(({ productId }) => String(productId)),
    units: lines.map(({ units }) => String(units)),
  });
}

/** Where a form was filled in from, and what of it the shop can no longer order. */
export interface FilledIn {
  readonly knownAs: string;
  readonly leftOut: readonly string[];
}

export function filledInFrom({ knownAs, lines }: ShownShopOrder, { products }: ShopRange): FilledIn {
  const offered = new Set(products.map(({ id }) => id));
  return {
    knownAs,
    leftOut: lines.filter(({ productId }) => !offered.has(productId)).map(({ product }) => product),
  };
}
