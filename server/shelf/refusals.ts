import { pieces } from "../../views/format/quantities.ts";

/** Why something at the shelf is not done. */
export type ShelfRefusal =
  | { readonly kind: "not-found" }
  /** Not pressed yet, or never pressed. */
  | { readonly kind: "has-no-pieces" }
  /** Still drying or resting, so that it stands on a tray and at no place of the shelf. */
  | { readonly kind: "not-ready"; readonly code: string }
  | { readonly kind: "fewer-there"; readonly balance: number }
  | { readonly kind: "moved-since"; readonly balance: number };

export function shelfRefusalWords(refusal: ShelfRefusal): string {
  switch (refusal.kind) {
    case "not-found":
      return "There is no such lot.";
    case "has-no-pieces":
      return "Nothing of this lot has been pressed, so there are no pieces to lose or count.";
    case "not-ready":
      return `Lot ${refusal.code} is not ready, so it stands at no place of the shelf yet. Nothing was changed.`;
    case "fewer-there":
      return `Only ${pieces(refusal.balance)} of this lot are there now. Nothing was changed.`;
    case "moved-since":
      return `The lot has changed since you opened this page: the ledger now says ${pieces(refusal.balance)}. Nothing was changed; please count again.`;
  }
}
