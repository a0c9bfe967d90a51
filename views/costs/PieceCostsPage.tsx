import type { CostsOnADay, ProductCost } from "../../server/costs/queries.ts";
import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Swatch } from "../components/Swatch.tsx";
import { moneyWords, taxRateWords } from "../format/money.ts";
import { plainNumber } from "../format/quantities.ts";
import { RadioChoice } from "../setup/RadioChoice.tsx";
import { costsSentence, marginShareWords, marginWords, unpricedWords } from "./costWords.ts";

/** What a piece of every product costs, and what each price list leaves. */
export function PieceCostsPage({
  costs,
  answer,
}: {
  readonly costs: CostsOnADay;
  readonly answer: FormAnswer;
}) {
  const { settings, taxPpm, lists } = costs;
  return (
    <>
      <p class="trail">
        <a href="/supplies">Supplies</a>
      </p>
      <h1>{costsSentence(costs)}</h1>
      {settings.hourMinor === null && (
        <p class="notice">Hands are not counted: say below what an hour of work costs.</p>
      )}
      {costs.products.length > 0 && <CostTable costs={costs} />}
      <p class="aside">
        By the recipe and the packing list of today, in a full bowl, without what breaks. The sum is rounded
        once, a half upwards.
        {lists.some(({ includesTax }) => includesTax) &&
          ` Of prices with tax in them, ${taxRateWords(taxPpm)} is taken off first.`}
      </p>
      <Form action="/costs" class="narrow">
        <h2>How it is reckoned</h2>
        <FormMistake answer={answer} />
        <RadioChoice
          name="supplyCost"
          legend="Supplies count"
          answer={answer}
          options={[
            { value: "last-paid", label: "as paid last", meaning: "By the newest delivery with a price." },
            {
              value: "average",
              label: "at the average of what is there",
              meaning: "Moving with every delivery: dear and cheap lots together.",
            },
          ]}
        />
        <Field
          name="hour"
          label={`An hour of hands costs, ${settings.currency}`}
          hint="Blank: hands are not counted."
          inputMode="decimal"
          autocomplete="off"
          answer={answer}
        />
        <button type="submit">Keep this</button>
      </Form>
    </>
  );
}

function CostTable({ costs: { products, lists, settings } }: { readonly costs: CostsOnADay }) {
  const { currency, hourMinor } = settings;
  return (
    <table class="stack piece-costs">
      <thead>
        <tr>
          <th scope="col">Product</th>
          <th scope="col" class="number">
            Ingredients
          </th>
          <th scope="col" class="number">
            Packaging
          </th>
          {hourMinor !== null && (
            <th scope="col" class="number">
              Hands
            </th>
          )}
          <th scope="col" class="number">
            A piece costs
          </th>
          {lists.map(({ id, name }) => (
            <th key={id} scope="col" class="number">
              {name} leave
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {products.map((product) => (
          <CostRow key={product.id} product={product} lists={lists} currency={currency} />
        ))}
      </tbody>
    </table>
  );
}

function CostRow({
  product,
  lists,
  currency,
}: {
  readonly product: ProductCost;
  readonly lists: CostsOnADay["lists"];
  readonly currency: string;
}) {
  const { id, name, look, cost, margins, handMinutes } = product;
  const money = (minor: number) => moneyWords(minor, currency);
  const unpriced = unpricedWords(product);
  return (
    <tr>
      <th scope="row">
        <Swatch look={look} />
        <a href={`/setup/products/${id}`}>{name}</a>
        {unpriced !== "" && <span class="aside said">{unpriced}</span>}
      </th>
      <td class="number" data-label="Ingredients">
        {money(cost.ingredientsMinor)}
      </td>
      <td class="number" data-label="Packaging">
        {money(cost.packagingMinor)}
      </td>
      {cost.handsMinor !== null && (
        <td class="number" data-label="Hands">
          {money(cost.handsMinor)}
          <span class="aside said">{plainNumber(handMinutes)} min</span>
        </td>
      )}
      <td class="number" data-label="A piece costs">
        <strong>{money(cost.totalMinor)}</strong>
      </td>
      {margins.map((margin, place) => {
        const list = lists[place];
        if (!list) return null;
        if (margin === null)
          return (
            <td key={list.id} class="number none">
              ·
            </td>
          );
        return (
          <td key={list.id} class="number" data-label={`${list.name} leave`}>
            {marginWords(margin.marginMinor, currency)}
            <span class="aside said">
              {marginShareWords(margin.shareBasisPoints)} of {money(margin.netMinor)}
            </span>
          </td>
        );
      })}
    </tr>
  );
}

/** The same of one product, for its own page. */
export function ProductCostFacts({ costs }: { readonly costs: CostsOnADay }) {
  const [product] = costs.products;
  if (!product) return null;
  const unpriced = unpricedWords(product);
  return (
    <section>
      <h2>What a piece costs</h2>
      <CostTable costs={costs} />
      {unpriced !== "" && <p class="aside">{unpriced}</p>}
      <p>
        <a href="/costs">How it is reckoned, and all products</a>
      </p>
    </section>
  );
}
