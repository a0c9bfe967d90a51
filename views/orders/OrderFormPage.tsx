import { FormMistake, LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { OrderHeadFields } from "./OrderHeadFields.tsx";
import { OrderLinesField } from "./OrderLinesField.tsx";
import type { OrderChoices, OrderFormKind } from "./orderForm.ts";
import { StandingOrder } from "./StandingOrder.tsx";

interface OrderFormProps {
  readonly kind: OrderFormKind;
  readonly answer: FormAnswer;
  readonly choices: OrderChoices;
}

/** Entering an order by hand, and changing one. */
export function OrderFormPage({ kind, answer, choices }: OrderFormProps) {
  return (
    <>
      <p class="trail">
        <a href={kind.is === "new" ? "/orders" : `/orders/${kind.orderId}`}>
          {kind.is === "new" ? "Orders" : kind.reference}
        </a>
      </p>
      <h1>
        <Unbroken
          words={kind.is === "new" ? "Who wants what by when?" : `What changes in ${kind.reference}?`}
        />
      </h1>
      <StillMissing choices={choices} />
      {kind.is === "change" && kind.packing && (
        <p>
          Packing has begun, so reference, customer and delivery stay; no line can go below what is packed. To
          finish with what has left already, cut every line to that and clear the lines that are not wanted.
        </p>
      )}
      {kind.is === "change" && kind.newer && <StandingOrder newer={kind.newer} />}
      <Form action={kind.is === "new" ? "/orders/new" : `/orders/${kind.orderId}/edit`} class="order-form">
        <FormMistake answer={answer} />
        {kind.is === "change" && <input type="hidden" name="seen" value={kind.seen} />}
        <OrderHeadFields kind={kind} answer={answer} customers={choices.customers} />
        <OrderLinesField answer={answer} products={choices.products} />
        <LongField
          name="note"
          label="Note"
          hint="Wishes, greetings, what to put in the box."
          answer={answer}
        />
        <SaveButtons kind={kind} />
      </Form>
    </>
  );
}

/** An order needs somebody who orders and something to order. */
function StillMissing({ choices: { customers, products } }: Pick<OrderFormProps, "choices">) {
  return (
    <>
      {customers.length === 0 && (
        <p class="notice">
          There is no customer yet: <a href="/setup/customers/new">add the first shop or market</a>.
        </p>
      )}
      {products.length === 0 && (
        <p class="notice">
          There is no product yet: <a href="/setup/products">say what you make</a>.
        </p>
      )}
    </>
  );
}

function SaveButtons({ kind }: { readonly kind: OrderFormKind }) {
  if (kind.is === "change")
    return (
      <p class="actions">
        <button type="submit" name="save" value="change">
          Save the change
        </button>
      </p>
    );
  return (
    <p class="actions">
      <button type="submit" name="save" value="confirm">
        Confirm the order
      </button>
      <button type="submit" name="save" value="draft" class="quiet">
        Keep it as a draft
      </button>
    </p>
  );
}
