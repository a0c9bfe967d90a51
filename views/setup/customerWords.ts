import { type FormAnswer, typedList, typedText } from "../components/formAnswer.ts";
import { listed } from "../format/sentence.ts";
import type { TermChoices } from "./CustomerTerms.tsx";

/*
 * What stands in the folded parts of a customer's form, in the words and numbers that were typed there.
 */

/** @param way how what is ordered gets there; undefined: not agreed yet. */
export function deliveryWords(answer: FormAnswer, way: string | undefined): string {
  const address = typedText(answer, "address").split(/\r?\n/)[0] ?? "";
  const weight = typedText(answer, "priorityWeight");
  const days = typedText(answer, "transitDays");
  return joined([
    way ?? "not agreed yet",
    isSome(days) && `${days} ${days === "1" ? "day" : "days"} under way`,
    typedText(answer, "takesPartDeliveries") === "yes" && "takes part deliveries",
    weight !== "" && weight !== "1" && `a late day weighs ${weight}`,
    address,
  ]);
}

export function moneyTermsWords(
  answer: FormAnswer,
  { priceLists, taxGroups }: TermChoices,
  currency: string,
): string {
  const [discount, shipping, net, early] = ["orderDiscount", "shipping", "netDays", "earlyDiscount"].map(
    (name) => typedText(answer, name),
  );
  return joined([
    nameOf(priceLists, typedText(answer, "priceList")) ?? "the usual prices",
    nameOf(taxGroups, typedText(answer, "taxGroup")) ?? "the usual tax",
    isSome(discount) && `${discount} % off`,
    isSome(shipping) && `sending ${shipping} ${currency}`,
    isSome(net) ? `${net} days to pay` : "paid at once",
    isSome(early) && `${early} % off within ${typedText(answer, "earlyDiscountDays")} days`,
  ]);
}

export function casesWords(answer: FormAnswer, shapes: TermChoices["shapes"], currency: string): string {
  const least = [
    isSome(typedText(answer, "leastOrder")) && `${typedText(answer, "leastOrder")} ${currency}`,
    isSome(typedText(answer, "leastUnits")) && `${typedText(answer, "leastUnits")} pieces`,
  ].filter((words) => words !== false);
  const units = typedList(answer, "caseUnits");
  const own = typedList(answer, "caseShape").flatMap((id, place) =>
    units[place] ? [`${nameOf(shapes, id) ?? "one shape"} by ${units[place]}`] : [],
  );
  return joined([
    least.length === 0 ? "orders of any size" : `at least ${listed(least)}`,
    own.length === 0 ? "the usual cases" : listed(own),
  ]);
}

/** Whether something other than nothing was typed. */
function isSome(typed: string | undefined): typed is string {
  return typed !== undefined && !/^[\s0.,]*$/.test(typed);
}

function nameOf(choices: readonly { readonly id: number; readonly name: string }[], id: string) {
  return choices.find((choice) => String(choice.id) === id)?.name;
}

function joined(parts: readonly (string | false)[]): string {
  return parts.filter((part) => part !== false && part !== "").join("; ");
}
