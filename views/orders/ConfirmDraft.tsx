import { Form } from "../components/Form.tsx";
import { freshForm } from "../components/formAnswer.ts";
import type { ShownOrder } from "./OrderPage.tsx";
import { PromiseField } from "./PromiseField.tsx";
import type { Advice } from "./promiseWords.ts";

interface ConfirmDraftProps {
  readonly order: ShownOrder;
  /** Where it was asked for with the button. */
  readonly advice: Advice | null;
}

/** Promising a draft, with what can be promised beside it: what its form asks is what the order holds. */
export function ConfirmDraft({ order, advice }: ConfirmDraftProps) {
  const { id, customerId, shipBy, neededBy, lines } = order;
  const asked = [
    ["order", id],
    ["customer", customerId],
    ["ship_by", shipBy],
    ["needed_by", neededBy ?? ""],
    ...lines.flatMap(({ productId, units }) => [["product", productId] as const, ["units", units] as const]),
  ] as const;
  return (
    <Form action={`/orders/${id}/confirmation`} id="order-form" class="confirm-draft">
      {asked.map(([name, value], place) => (
        <input key={`${name}-${place}`} type="hidden" name={name} value={value} />
      ))}
      <PromiseField answer={freshForm({ units: lines.map(({ units }) => String(units)) })} advice={advice} />
      <p class="actions">
        <button type="submit" name="save" value="confirm">
          Confirm the order
        </button>
      </p>
    </Form>
  );
}
