import { FormMistake, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, freshForm, typedList } from "../components/formAnswer.ts";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { pieces } from "../format/quantities.ts";
import { learnedWords, marginWords, type Reasoning, reasonWords } from "./suggestionWords.ts";

interface AdvisedProduct {
  readonly productId: number;
  readonly product: string;
  readonly shape: string;
  readonly blend: string;
  readonly look: BlendLook;
  readonly suggestion: Reasoning;
  readonly money: { readonly earnsMinor: number; readonly losesMinor: number } | null;
}

export interface Advised {
  readonly advice: readonly AdvisedProduct[];
  readonly learnedFrom: { readonly from: "kind" | "customer" | "all"; readonly markets: number };
  readonly currency: string;
  /** What the crate list was like when this was shown. */
  readonly seen: string;
  /** The numbers as they were sent, with what is wrong with them; null: not sent yet. */
  readonly answer: FormAnswer | null;
}

interface AdviceFormProps {
  readonly marketId: number;
  readonly kind: string;
  readonly advised: Advised;
  /** What stands on the crate list now; empty while there is none. */
  readonly crate: readonly { readonly productId: number; readonly units: number }[];
}

/** How much to take of each product, with the reason beside it; one tap makes it the crate list. */
export function AdviceForm({ marketId, kind, advised, crate }: AdviceFormProps) {
  const { advice, learnedFrom, answer } = advised;
  const typed = answer && typedList(answer, "units");
  const listed = new Map(crate.map(({ productId, units }) => [productId, units]));
  const suggested = advice.reduce((sum, { suggestion }) => sum + usualTake(suggestion), 0);
  const numbers = advice.map(({ productId, suggestion }, place) => {
    const known = crate.length > 0 ? listed.get(productId) : usualTake(suggestion);
    return typed?.[place] ?? (known ? String(known) : "");
  });
  return (
    <Form action={`/markets/${marketId}/crate-list`} class="advice">
      <h2>How much to take</h2>
      <p class="aside">
        {learnedWords({ ...learnedFrom, kind })}
        {suggested > 0 && ` Together ${pieces(suggested)}; what was never taken is left blank.`}
      </p>
      {answer && <FormMistake answer={answer} />}
      {answer && <Mistake name="lines" answer={answer} />}
      <input type="hidden" name="seen" value={advised.seen} />
      <ul class="plain-list advice-list">
        {advice.map((product, place) => (
          <AdviceLine
            key={product.productId}
            product={product}
            place={place}
            units={numbers[place] ?? ""}
            answer={answer ?? freshForm()}
            currency={advised.currency}
          />
        ))}
      </ul>
      <button type="submit">
        {crate.length > 0 ? "Put these numbers on the crate list" : "Make this the crate list"}
      </button>
    </Form>
  );
}

/** What goes into the crate unless somebody says otherwise: what was never taken waits until it is asked for. */
function usualTake({ basis, takeUnits }: Reasoning): number {
  return basis === "own" ? (takeUnits ?? 0) : 0;
}

interface AdviceLineProps {
  readonly product: AdvisedProduct;
  readonly place: number;
  readonly units: string;
  readonly answer: FormAnswer;
  readonly currency: string;
}

function AdviceLine({ product, place, units, answer, currency }: AdviceLineProps) {
  const id = `take-${product.productId}`;
  const mistake = `lines.${place}.units`;
  const wrong = answer.mistakes[mistake] !== undefined;
  return (
    <li class="advice-line">
      <label for={id}>
        <Swatch look={product.look} />
        {product.product}
      </label>
      <input type="hidden" name="product" value={product.productId} />
      <input
        id={id}
        name="units"
        class="big-number"
        inputMode="numeric"
        autocomplete="off"
        value={units}
        aria-invalid={wrong ? "true" : undefined}
        aria-describedby={wrong ? `${id}-reason ${mistake}-mistake` : `${id}-reason`}
      />
      <p class="reason" id={`${id}-reason`}>
        {reasonWords(product.suggestion, product)}
        <span class="hint under">{marginWords(product.money, currency)}</span>
      </p>
      <Mistake name={mistake} answer={answer} />
    </li>
  );
}
