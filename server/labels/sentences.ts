import { weightWords, wholeWords } from "../../views/format/quantities.ts";
import type { Mistake } from "../http/takeForm.ts";
import type { ProductLabelRefusal } from "./changeProductLabel.ts";
import type { AskedMistake } from "./labelSheet.ts";

/** What is wrong with what a product's label was to declare, beside its field. */
export function productLabelMistake(refusal: Exclude<ProductLabelRefusal, { kind: "not-found" }>): Mistake {
  switch (refusal.kind) {
    case "no-recipe":
      return {
        field: "declaredGrams",
        sentence:
          "Its blend has no recipe yet, so nobody knows what a dry piece weighs. Write the recipe first.",
      };
    case "above-dry":
      return {
        field: "declaredGrams",
        sentence: `A piece weighs ${weightWords(refusal.dryMilligrams)} when it is dry; a label never declares more.`,
      };
    case "no-prefix":
      return {
        field: "gs1Number",
        sentence: "The shop has no GS1 company prefix yet; it is entered with the labels in the setup.",
      };
    case "no-room":
      return {
        field: "gs1Number",
        sentence: `The shop's prefix has numbers from 0 to ${wholeWords(refusal.numbers - 1)}.`,
      };
    case "number-taken":
      return { field: "gs1Number", sentence: `${refusal.product} has this number already.` };
  }
}

/** What is wrong with the sheet that was asked for, beside its field. */
export function askedMistake(mistake: AskedMistake): Mistake {
  if (mistake.kind === "no-such-sheet")
    return { field: "sheet", sentence: "That sheet is not in use any more: choose another.", status: 409 };
  return { field: "first", sentence: `The sheet has the labels 1 to ${mistake.labels}.` };
}
