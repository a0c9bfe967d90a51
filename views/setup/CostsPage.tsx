import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { shareWords } from "../format/money.ts";
import { spelled } from "../format/quantities.ts";
import { type GridProduct, PriceGrid } from "./PriceGrid.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

interface CostsPageProps {
  readonly settings: { readonly currency: string; readonly makingCostBasisPoints: number };
  readonly products: readonly GridProduct[];
  readonly answer: FormAnswer;
}

/** What making one piece of each product costs: what a market's leftover is weighed against. */
export function CostsPage({ settings, products, answer }: CostsPageProps) {
  const known = products.filter(({ price }) => price !== null).length;
  return (
    <>
      <SetupTrail list={{ href: "/setup/money", name: "Money" }} />
      <h1>
        {known === 0
          ? "No product says yet what making it costs."
          : `${spelled(known, "product")} of ${products.length} ${known === 1 ? "says" : "say"} what making a piece costs.`}
      </h1>
      <Form action="/setup/costs">
        <FormMistake answer={answer} />
        <p class="hint">
          In {settings.currency} a piece, without tax: ingredients, wrapping and your hands. Blank: reckoned
          as {shareWords(settings.makingCostBasisPoints)} of its usual retail price. How much to take to a
          market follows from it.
        </p>
        <PriceGrid products={products} currency={settings.currency} answer={answer} />
        <div class="actions">
          <button type="submit">Keep these costs</button>
        </div>
      </Form>
    </>
  );
}
