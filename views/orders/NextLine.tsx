import { freshForm } from "../components/formAnswer.ts";
import { OrderLineFields } from "./OrderLinesField.tsx";
import type { ProductChoice } from "./orderForm.ts";

/** The fragment that "one more line" brings: an empty line that takes the focus. */
export function NextLine({
  place,
  products,
  currency,
}: {
  readonly place: number;
  readonly currency: string | null;
  readonly products: readonly ProductChoice[];
}) {
  const nothing = { product: "", units: "", price: "", discount: "" };
  const props = { place, products, currency, line: nothing, answer: freshForm() };
  return <OrderLineFields {...props} focus />;
}
