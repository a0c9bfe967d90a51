import type { ShopObjections } from "../../server/stockist/reckonShopOrder.ts";
import type { ShopOrderRow } from "../../server/stockist/shopOrders.ts";
import type { ShopPromise } from "../../server/stockist/shopPromise.ts";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { pieces, wholeWords } from "../format/quantities.ts";

/** Where an order stands, as its shop is told: "taken, leaves by Fri 5 Mar". */
export function whereItStands({ state, shipBy, wasConfirmed }: ShopOrderState): string {
  switch (state) {
    case "draft":
      return "waits for our answer";
    case "confirmed":
      return `taken, leaves by ${shortDayWords(shipBy)}`;
    case "packing":
      return `being packed, leaves by ${shortDayWords(shipBy)}`;
    case "packed":
      return `packed, leaves by ${shortDayWords(shipBy)}`;
    case "shipped":
      return "on its way";
    case "delivered":
      return "delivered";
    case "cancelled":
      return wasConfirmed ? "cancelled" : "not taken";
  }
}

type ShopOrderState = Pick<ShopOrderRow, "state" | "shipBy" | "wasConfirmed">;

/** "Sold in cases of 36: 36 or 72, not 50." */
export function casesWords({ units, caseUnits, nearest }: ShopObjections["notWholeCases"][number]): string {
  const right = [nearest.below, nearest.above].filter((count) => count !== null).map(wholeWords);
  return `Sold in cases of ${wholeWords(caseUnits)}: ${right.join(" or ")}, not ${wholeWords(units)}.`;
}

/** "Orders begin at 24 pieces; these are 12." */
export function leastWords(below: NonNullable<ShopObjections["below"]>, currency: string): string {
  return "leastUnits" in below
    ? `Orders begin at ${pieces(below.leastUnits)}; so far it is ${pieces(below.units)}.`
    : `Orders begin at ${moneyWords(below.leastMinor, currency)}; so far it comes to ${moneyWords(below.goodsMinor, currency)}.`;
}

export function promiseWords(promise: ShopPromise): string {
  switch (promise.is) {
    case "in-time":
      return `We can have it there for ${dayWords(promise.neededBy)}.`;
    case "later":
      return `We can send it by ${dayWords(promise.leavesBy)}.`;
    case "unknown":
      return "We will write to you when you can have it.";
  }
}
