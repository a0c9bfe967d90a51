import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { spelled } from "../format/quantities.ts";
import { type GridProduct, PriceGrid } from "./PriceGrid.tsx";
import { ValidFromField } from "./PriceListPage.tsx";
import { statedWords } from "./priceWords.ts";
import { SetupTrail } from "./SetupTrail.tsx";

interface OwnPricesPageProps {
  readonly customer: { readonly id: number; readonly name: string };
  readonly pricesIncludeTax: boolean;
  readonly products: readonly GridProduct[];
  readonly currency: string;
  readonly answer: FormAnswer;
}

/** What one customer pays for some products, before any list. */
export function OwnPricesPage({
  customer,
  pricesIncludeTax,
  products,
  currency,
  answer,
}: OwnPricesPageProps) {
  const own = products.filter(({ price }) => price !== null).length;
  return (
    <>
      <SetupTrail list={{ href: `/setup/customers/${customer.id}`, name: customer.name }} />
      <h1>
        {own === 0
          ? `${customer.name} pays what its list asks.`
          : `${customer.name} has prices of its own for ${spelled(own, "product")}.`}
      </h1>
      <Form action={`/setup/customers/${customer.id}/prices`}>
        <FormMistake answer={answer} />
        <ValidFromField answer={answer} />
        <p class="hint">
          Prices of one piece in {currency}. {statedWords(pricesIncludeTax)} A blank means the list's price.
          Only what you change is kept, from that day on. Confirmed orders keep the prices they have.
        </p>
        <PriceGrid products={products} currency={currency} answer={answer} />
        <div class="actions">
          <button type="submit">Keep these prices</button>
        </div>
      </Form>
    </>
  );
}
