import { freshForm } from "../components/formAnswer.ts";
import { OrderLineFields } from "./OrderLinesField.tsx";
import type { ProductChoice } from "./orderForm.ts";

/** The fragment that "one more line" brings: an empty line that takes the focus. */
export function NextLine({
  place,
  products,
}: {
  readonly place: number;
  readonly products: readonly ProductChoice[];
}) {
  const nothing = { product: "", units: "" };
  return <OrderLineFields place={place} line={nothing} answer={freshForm()} products={products} focus />;
}
