import { dayWords } from "../../views/format/dates.ts";
import { pieces } from "../../views/format/quantities.ts";
import { stateWords } from "../../views/orders/stateWords.ts";
import type { FormLine } from "./lineFields.ts";
import type { CancelRefusal, ChangeRefusal, ConfirmRefusal, ContentRefusal } from "./refusals.ts";

/** A sentence and the field of the order's form it stands beside; "" for the whole form. */
interface Placed {
  readonly field: string;
  readonly sentence: string;
}

/** What a refused content says beside which field. `lines` are those of the form, in the command's order. */
export function contentWords(refusal: ContentRefusal, lines: readonly FormLine[]): Placed {
  switch (refusal.why) {
    case "reference-taken":
      return { field: "reference", sentence: `${refusal.reference} is taken by another order.` };
    case "customer-unknown":
      return { field: "customer", sentence: "Choose one from the list." };
    case "customer-retired":
      return {
        field: "customer",
        sentence: `${refusal.customer} no longer orders; choose another customer.`,
      };
    case "product-unknown":
      return { field: lineField("product", refusal.line, lines), sentence: "Choose a product." };
    case "product-retired":
      return {
        field: lineField("product", refusal.line, lines),
        sentence: `${refusal.product} is no longer made.`,
      };
    case "date-gone-by":
      return { field: "ship_by", sentence: dateGoneByWords(refusal.today) };
    case "date-too-far":
      return {
        field: "ship_by",
        sentence: `Give a date up to ${dayWords(refusal.last, { year: true })}; is the year right?`,
      };
    case "needed-too-soon":
      return {
        field: "needed_by",
        sentence: `To be there then it would have had to leave by ${dayWords(refusal.shipBy)}; today is ${dayWords(refusal.today)}. Give the day it can leave below.`,
      };
    case "no-working-day":
      return {
        field: "needed_by",
        sentence: "There is no working day before it. Give the day it leaves below.",
      };
    case "currency-changed":
      return {
        field: "",
        sentence:
          "The workshop's currency was changed while you were at it. Look at every amount, then send it again.",
      };
  }
}

/** The same for a change of an order; what happened meanwhile is told by `clashWords`. */
export function changeWords(
  refusal: Exclude<ChangeRefusal, { readonly why: "not-found" | "changed-meanwhile" | "past-changing" }>,
  lines: readonly FormLine[],
): Placed {
  switch (refusal.why) {
    case "fixed-while-packing":
      return {
        field: refusal.field,
        sentence: `Packing has begun: the ${refusal.field} stays as it is on the labels.`,
      };
    case "fixed-once-billed":
      return {
        field: "customer",
        sentence: "It is billed already: the customer stays as the invoice names it.",
      };
    case "below-packed":
      return {
        field: lineField("units", refusal.line, lines),
        sentence: `${pieces(refusal.packed)} of ${refusal.product} are packed already. Give at least that many, or take some out at Packing first.`,
      };
    case "packed-line-missing":
      return {
        field: "lines",
        sentence: `${pieces(refusal.packed)} of ${refusal.product} are packed already. Keep its line, or take them out at Packing first.`,
      };
    default:
      return contentWords(refusal, lines);
  }
}

/** Why a change, a confirmation or a cancellation came too late. */
export function clashWords(
  refusal: ConfirmRefusal | CancelRefusal | Extract<ChangeRefusal, { readonly why: "past-changing" }>,
): string {
  switch (refusal.why) {
    case "not-found":
      return "There is no such order.";
    case "not-draft":
      return `This order is no longer a draft: it is ${stateWords(refusal.state)}.`;
    case "date-gone-by":
      return `${dateGoneByWords(refusal.today)} Change the date, then confirm.`;
    case "past-changing":
      return `This order is ${stateWords(refusal.state)} and can no longer be changed.`;
    case "past-cancelling":
      return `This order is ${stateWords(refusal.state)} and can no longer be cancelled.`;
    case "part-shipped":
      return `${pieces(refusal.units)} of this order have left already, so it cannot be cancelled. Cut its lines to what has left instead.`;
  }
}

function dateGoneByWords(today: string): string {
  return `That date has gone by; today is ${dayWords(today)}.`;
}

function lineField(list: "product" | "units", line: number, lines: readonly FormLine[]): string {
  return `lines.${lines[line]?.place ?? line}.${list}`;
}
