import type { ShownRecall } from "../../server/recalls/queries.ts";
import type { NoticeWay } from "../../server/recalls/recordNotice.ts";
import type { Got } from "../../server/recalls/whomToTell.ts";
import { dateOf, shortDayWords } from "../format/dates.ts";
import { pieces, spelled, wholeWords } from "../format/quantities.ts";
import { capitalised, listed } from "../format/sentence.ts";
import { countedWords } from "../supplies/supplyWords.ts";

export const noticeWays: Readonly<Record<NoticeWay, string>> = {
  phone: "by phone",
  "e-mail": "by e-mail",
  visit: "in person",
  letter: "by letter",
  notice: "by a notice where buyers read it",
};

export function noticeWayWords(way: NoticeWay): string {
  return noticeWays[way];
}

/** "K7Q, Cedar ball, is recalled: two customers are still to be told, 28 pieces are still here." */
export function recallHeadline(recall: ShownRecall): string {
  const { code, name, endedAt } = recall;
  if (endedAt !== null) return `The recall of ${code}, ${name}, is over.`;
  return `${code}, ${name}, is recalled: ${stillWords(recall)}.`;
}

/** "two customers are still to be told, 36 pieces and 380 g of the lot are still here" */
function stillWords({ recipients, toTell, unitsHere, amountHere, around, supplyKind }: ShownRecall): string {
  const aroundHere = around.reduce((sum, { here }) => sum + here, 0);
  const told =
    toTell === 0
      ? recipients.length === 0
        ? "nobody outside has any of it"
        : "everybody was told"
      : `${spelled(toTell, "customer")} ${toTell === 1 ? "is" : "are"} still to be told`;
  const here = [
    ...(unitsHere > 0 ? [pieces(unitsHere)] : []),
    ...(supplyKind !== null && amountHere > 0 ? [`${countedWords(supplyKind, amountHere)} of the lot`] : []),
    ...(aroundHere > 0 ? [`${wholeWords(aroundHere)} around packed pieces`] : []),
  ];
  if (here.length === 0) return `${told}, nothing of it is here`;
  return `${told}, ${listed(here)} ${here.length === 1 && unitsHere + aroundHere === 1 ? "is" : "are"} still here`;
}

/** "12 of K7Q with W-104, left Mon 1 Mar" or, of a market, "12 of K7Q, sold at the stall on Sat 6 Mar". */
export function gotWords({ units, code, reference, leftAt, heldOn }: Got, timeZone: string): string {
  const what = `${wholeWords(units)} of ${code}`;
  if (heldOn !== null) return `${what}, sold at the stall on ${shortDayWords(heldOn)} (${reference})`;
  const left = leftAt === null ? "" : `, left ${shortDayWords(dateOf(leftAt, timeZone))}`;
  return `${what} with ${reference}${left}`;
}

/** "252 pieces of 21 lots with 20 orders, the last left Mon 1 Mar", of a customer who got too much to name it all. */
export function gotInAllWords(got: readonly Got[], timeZone: string): string {
  const units = got.reduce((sum, part) => sum + part.units, 0);
  const lots = new Set(got.map(({ code }) => code)).size;
  const orders = new Set(got.map(({ orderId }) => orderId)).size;
  const times = got.flatMap(({ leftAt }) => leftAt?.getTime() ?? []);
  const last =
    times.length === 0
      ? ""
      : `, the last left ${shortDayWords(dateOf(new Date(Math.max(...times)), timeZone))}`;
  return `${pieces(units)} of ${spelled(lots, "lot")} with ${spelled(orders, "order")}${last}`;
}

/** Who said what, such as "Told by phone". */
export function toldWords(how: NoticeWay): string {
  return capitalised(`told ${noticeWayWords(how)}`);
}
