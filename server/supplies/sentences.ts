import { countedWords } from "../../views/supplies/supplyWords.ts";
import type { Mistake } from "../http/takeForm.ts";
import type { AmountRefusal } from "./amounts.ts";
import type { ChoiceRefusal } from "./chooseLot.ts";
import type { CorrectionRefusal } from "./correctLot.ts";
import type { CountRefusal } from "./countSupply.ts";
import type { SupplyKind } from "./kinds.ts";
import type { SupplyLossRefusal } from "./loseSupply.ts";
import type { ReceiptRefusal } from "./receiveSupply.ts";

type Kinds<Refusal> = Exclude<Refusal, { readonly kind: "not-found" }>;

/** What to say of an amount that cannot be taken. */
export function amountSentence(refusal: AmountRefusal): string {
  switch (refusal) {
    case "density-unknown":
      return "No density has been entered for it, and none is guessed: weigh it, or enter its density.";
    case "wrong-unit":
      return "It is not counted in that unit: choose another.";
    case "part-of-a-piece":
      return "Give whole pieces.";
    case "out-of-range":
      return "That is less than the smallest amount that is counted, or more than anybody has.";
  }
}

export function receiptMistake(refusal: Exclude<ReceiptRefusal, "not-found">): Mistake {
  switch (refusal) {
    case "retired":
      return { field: "", sentence: "It is retired: bring it back first.", status: 409 };
    case "supplier-unknown":
      return { field: "supplier", sentence: "Choose a supplier who is in use." };
    case "pack-unknown":
      return { field: "unit", sentence: "That pack is not this supplier's: choose another." };
    case "purchase-unknown":
      return {
        field: "purchase",
        sentence: "It has been received or called off already: look at what is on its way now.",
        status: 409,
      };
    case "not-here-yet":
      return { field: "receivedOn", sentence: "That day is still to come: enter it when it is here." };
    case "expired-before-it-came":
      return { field: "expiresOn", sentence: "Its last good day was before it came. Look at both dates." };
    case "density-unknown":
    case "wrong-unit":
      return { field: "unit", sentence: amountSentence(refusal) };
    case "part-of-a-piece":
    case "out-of-range":
      return { field: "quantity", sentence: amountSentence(refusal) };
  }
}

export function correctionMistake(refusal: Exclude<CorrectionRefusal, "not-found">): Mistake {
  switch (refusal) {
    case "changed-since":
      return {
        field: "",
        sentence: "Somebody put this lot right since you opened the page: look at what it says now.",
        status: 409,
      };
    case "currency-changed":
      return {
        field: "price",
        sentence: "The workshop's currency was changed meanwhile: look at what it cost and send it again.",
        status: 409,
      };
    case "nothing-changed":
      return { field: "", sentence: "That is what it says already." };
    case "expired-before-it-came":
      return { field: "expiresOn", sentence: "Its last good day was before it came. Look at the day again." };
  }
}

/** @param rows the lots of the form, in its order: a refusal finds its way back */
export function countMistake(refusal: Kinds<CountRefusal>, rows: readonly string[]): Mistake {
  if (refusal.kind === "moved-since")
    return {
      field: "",
      sentence: "Something came or went since you opened this page. Nothing was changed; please count again.",
      status: 409,
    };
  const row = rows.indexOf(String(refusal.lotId));
  return {
    field: row < 0 ? "counts" : `counts.${row}`,
    sentence:
      refusal.kind === "lot-left-out"
        ? "Say how much is there, 0 for none: a count is of every lot."
        : amountSentence(refusal.kind),
  };
}

export function lossMistake(refusal: Kinds<SupplyLossRefusal>, kind: SupplyKind): Mistake {
  switch (refusal.kind) {
    case "lot-unknown":
      return { field: "lostLot", sentence: "Nothing is left of that lot. Choose another.", status: 409 };
    case "part-of-a-piece":
      return { field: "lostAmount", sentence: amountSentence(refusal.kind) };
    case "less-there":
      return {
        field: "lostAmount",
        sentence: `Only ${countedWords(kind, refusal.amount)} of this lot are there. Nothing was changed; count it if that is wrong.`,
        status: 409,
      };
  }
}

export function choiceMistake(refusal: Exclude<ChoiceRefusal, "no-such-run">): Mistake {
  const sentences: Record<typeof refusal, string> = {
    "nothing-taken": "This run has taken nothing of it.",
    "lot-unknown": "Nothing is left of that lot. Choose another.",
    "lot-recalled":
      "One of these lots is recalled: nothing more is taken of it, and its batches stay as they are.",
    "counted-since":
      "It was counted since it was weighed out, so what each lot has is known. Nothing was changed.",
  };
  return { field: "", sentence: sentences[refusal], status: 409 };
}
