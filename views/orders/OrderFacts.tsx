import { StateMark } from "../components/StateMark.tsx";
import { dayWords } from "../format/dates.ts";
import type { ShownOrder } from "./OrderPage.tsx";
import { PromptnessMark } from "./PromptnessMark.tsx";
import { stateWords, termsWords } from "./stateWords.ts";

export function OrderFacts({ order }: { readonly order: ShownOrder }) {
  return (
    <dl class="facts">
      <div>
        <dt>State</dt>
        <dd>
          <StateMark words={stateWords(order.state)} /> <PromptnessMark promptness={order.promptness} />
        </dd>
      </div>
      <div>
        <dt>Ship by</dt>
        <dd>{dayWords(order.shipBy, { year: true })}</dd>
      </div>
      <div>
        <dt>Delivery</dt>
        <dd>{termsWords(order.terms)}</dd>
      </div>
      {order.note && (
        <div>
          <dt>Note</dt>
          <dd class="as-typed">{order.note}</dd>
        </div>
      )}
    </dl>
  );
}
