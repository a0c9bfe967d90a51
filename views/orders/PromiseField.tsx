import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { AdviceKept, PromiseAdvice } from "./PromiseAdvice.tsx";
import type { Advice } from "./promiseWords.ts";

interface PromiseFieldProps {
  readonly answer: FormAnswer;
  readonly advice: Advice | null;
}

/** A moment after the last touch of the form, and at once where it comes with lines. */
const whenTyped = "input delay:400ms from:#order-form, change delay:400ms from:#order-form";

/**
 * When the order can be promised, kept up to date while it is typed; an older question is dropped for a newer one. The
 * button answers on the page, for whoever has no JavaScript.
 */
export function PromiseField({ answer, advice }: PromiseFieldProps) {
  const isFilled = typedList(answer, "units").some((units) => units.trim() !== "");
  return (
    <section class="promise-field" aria-labelledby="promise-heading">
      <h2 id="promise-heading">When can it be promised?</h2>
      <div
        id="promise-advice"
        aria-live="polite"
        hx-post="/orders/promise"
        hx-trigger={isFilled && advice === null ? `load delay:50ms, ${whenTyped}` : whenTyped}
        hx-sync="this:replace"
      >
        {advice === null && isFilled ? (
          <p class="hint">As soon as it is asked, here stands when it can be promised.</p>
        ) : (
          <PromiseAdvice advice={advice ?? { is: "nothing-typed" }} />
        )}
        {advice === null && <AdviceKept answer={answer} />}
      </div>
      <button
        type="submit"
        class="quiet"
        name="save"
        value="promise"
        formnovalidate
        hx-post="/orders/promise"
        hx-target="#promise-advice"
        hx-sync="#promise-advice:replace"
      >
        When can I promise it?
      </button>
    </section>
  );
}
