import { StateMark } from "../components/StateMark.tsx";
import { dayWords, momentWords } from "../format/dates.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { AdvisedFact } from "./AdvisedFact.tsx";
import type { ShownOrder } from "./OrderPage.tsx";
import { PromptnessMark } from "./PromptnessMark.tsx";
import { stateName, termsWords } from "./stateWords.ts";

/** How it stands, what was agreed, and when it reached each state. */
export function OrderFacts({ order }: { readonly order: ShownOrder }) {
  return (
    <dl class="facts">
      <div>
        <dt>State</dt>
        <dd>
          <StateMark words={stateName(order.state)} /> <PromptnessMark promptness={order.promptness} />
        </dd>
      </div>
      <div>
        <dt>Ship by</dt>
        <dd>{dayWords(order.shipBy, { year: true })}</dd>
      </div>
      {order.neededBy && (
        <div>
          <dt>Needed by</dt>
          <dd>{dayWords(order.neededBy, { year: true })}</dd>
        </div>
      )}
      {order.shopReference && (
        <div>
          <dt>The shop knows it as</dt>
          <dd>{order.shopReference}</dd>
        </div>
      )}
      {order.customerReference && (
        <div>
          <dt>Their own number</dt>
          <dd>{order.customerReference}</dd>
        </div>
      )}
      <div>
        <dt>Delivery</dt>
        <dd>{termsWords(order.terms)}</dd>
      </div>
      <Times order={order} />
      {order.note && (
        <div>
          <dt>Note</dt>
          <dd class="as-typed">{order.note}</dd>
        </div>
      )}
      {order.customerNote && (
        <div>
          <dt>What the customer wrote</dt>
          <dd class="as-typed">{order.customerNote}</dd>
        </div>
      )}
      <AdvisedFact advice={order} />
    </dl>
  );
}

function Times({ order }: { readonly order: ShownOrder }) {
  const { workshop } = usePageContext();
  const times = [
    ["Entered", order.createdAt],
    ["Confirmed", order.confirmedAt],
    ["Packed", order.packedAt],
    ["Shipped", order.shippedAt],
    ["Delivered", order.deliveredAt],
    ["Cancelled", order.cancelledAt],
  ] as const;
  return (
    <>
      {times.map(([name, at]) =>
        at === null ? null : (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{momentWords(at, workshop?.timeZone ?? "UTC")}</dd>
          </div>
        ),
      )}
    </>
  );
}
