import type { DateHabit } from "./fileDates.ts";
import type { OrderState } from "./order.ts";
import type { OrderColumn } from "./orderTable.ts";

/** What is wrong with a file, on which line (from 1, the header being one of them). */
export type FileMistake = { readonly line: number } & (
  | { readonly why: "empty" }
  | { readonly why: "not-utf-8"; readonly looksLike: "UTF-16" | null }
  | { readonly why: "quote-open" }
  | { readonly why: "too-many-lines" }
  | { readonly why: "column-missing"; readonly column: OrderColumn }
  | { readonly why: "column-unknown"; readonly name: string }
  | { readonly why: "column-twice"; readonly column: OrderColumn }
  | { readonly why: "field-count"; readonly found: number; readonly expected: number }
  | { readonly why: "no-orders" }
  | { readonly why: "blank"; readonly column: OrderColumn }
  | { readonly why: "reference"; readonly typed: string }
  | { readonly why: "customer-unknown"; readonly typed: string }
  | { readonly why: "customer-retired"; readonly typed: string }
  | { readonly why: "terms"; readonly typed: string }
  | { readonly why: "no-date" }
  | { readonly why: "date"; readonly typed: string; readonly dates: DateHabit }
  | { readonly why: "no-working-day"; readonly typed: string }
  | {
      readonly why: "needed-too-soon";
      readonly typed: string;
      readonly shipBy: string;
      readonly today: string;
    }
  | { readonly why: "date-gone-by"; readonly typed: string; readonly today: string }
  | { readonly why: "date-too-far"; readonly typed: string; readonly last: string }
  | { readonly why: "product-unknown"; readonly typed: string }
  | { readonly why: "product-retired"; readonly typed: string }
  | { readonly why: "product-ambiguous"; readonly typed: string }
  | { readonly why: "units"; readonly typed: string }
  | { readonly why: "price"; readonly typed: string; readonly sentence: string }
  | { readonly why: "their-number"; readonly typed: string }
  | { readonly why: "note" }
  | { readonly why: "currency-changed"; readonly currency: string }
  | {
      readonly why: "contradiction";
      readonly order: string;
      readonly column: OrderColumn;
      readonly typed: string;
      readonly firstLine: number;
    }
  | { readonly why: "product-twice"; readonly order: string; readonly firstLine: number }
  | { readonly why: "too-many-order-lines"; readonly order: string }
  | { readonly why: "reference-taken"; readonly order: string; readonly state: OrderState }
);
