import { rowsOf } from "../http/formFields.ts";
import { meaningKey } from "./fileNames.ts";

/** What the maker says an unknown name means. */
export type FileAnswer =
  | { readonly is: "leave-out" }
  | { readonly is: "same"; readonly id: number }
  | { readonly is: "new-customer"; readonly kind: "shop" | "market" }
  | { readonly is: "new-product"; readonly blendId: number; readonly shapeId: number };

/** The answers of the form as they were sent, by `meaningKey`: three lists side by side. */
export function typedAnswers(body: unknown): ReadonlyMap<string, string> {
  const rows = rowsOf(body, { what: "name_is", written: "name_written", meaning: "name_means" });
  return new Map(
    rows.map(({ what, written, meaning }) => [
      meaningKey(what === "product" ? what : "customer", written),
      meaning,
    ]),
  );
}

/** Null where nothing was chosen. */
export function readAnswer(typed: string): FileAnswer | null {
  const [, is = "", one = "0", other = "0"] =
    /^(leave-out|shop|market|same|new)(?::([1-9]\d{0,8}))?(?::([1-9]\d{0,8}))?$/.exec(typed) ?? [];
  switch (is) {
    case "leave-out":
      return { is };
    case "shop":
    case "market":
      return { is: "new-customer", kind: is };
    case "same":
      return { is, id: Number(one) };
    case "new":
      return { is: "new-product", blendId: Number(one), shapeId: Number(other) };
    default:
      return null;
  }
}
