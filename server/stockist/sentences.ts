import { casesWords, leastWords } from "../../views/stockist/shopWords.ts";
import { unitsOf } from "../http/piecesFields.ts";
import type { SendRefusal } from "./sendShopOrder.ts";

/** A sentence and the field of the shop's form it stands beside; "" for the whole form. */
interface Placed {
  readonly field: string;
  readonly sentence: string;
}

/** What a shop is told of an order that was not taken. */
export function sendWords(
  refusal: Exclude<SendRefusal, { readonly why: "closed" }>,
  currency: string,
): readonly Placed[] {
  switch (refusal.why) {
    case "too-soon":
      return [{ field: "needed_by", sentence: "We can't get it to you by then: choose a later day." }];
    case "too-far":
      return [{ field: "needed_by", sentence: "That is too far ahead; is the year right?" }];
    case "too-many-waiting":
      return [
        {
          field: "",
          sentence: "Many of your orders wait for our answer already. Please wait for it, or call.",
        },
      ];
    case "objections": {
      const { notOffered, notWholeCases, below } = refusal.objections;
      return [
        ...(notOffered.length > 0
          ? [
              {
                field: "lines",
                sentence: "Something you asked for is no longer on offer; look over the rest.",
              },
            ]
          : []),
        ...notWholeCases.map((line) => ({ field: unitsOf(line.productId), sentence: casesWords(line) })),
        ...(below ? [{ field: "lines", sentence: leastWords(below, currency) }] : []),
      ];
    }
  }
}
