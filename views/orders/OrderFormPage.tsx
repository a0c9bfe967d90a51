import { Field, FormMistake, LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { listed } from "../format/sentence.ts";
import { LookedOverPart } from "./LookedOverPart.tsx";
import type { LookedOver } from "./lookedOver.ts";
import { OrderHeadFields } from "./OrderHeadFields.tsx";
import { OrderLinesField } from "./OrderLinesField.tsx";
import { type OrderChoices, type OrderFormKind, typesMoney } from "./orderForm.ts";
import { PromiseField } from "./PromiseField.tsx";
import type { Advice } from "./promiseWords.ts";
import { StandingOrder } from "./StandingOrder.tsx";

interface OrderFormProps {
  readonly kind: OrderFormKind;
  readonly answer: FormAnswer;
  readonly choices: OrderChoices;
  /** What it comes to as far as it is filled in. */
  readonly over: LookedOver;
  /** ISO 4217: what amounts are typed in. */
  readonly currency: string;
  /** When it can be promised, where that was asked for with the button. */
  readonly advice: Advice | null;
}

/** Entering an order by hand, and changing one. */
export function OrderFormPage({ kind, answer, choices, over, currency, advice }: OrderFormProps) {
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
      {kind.is === "new" && kind.copied && <Copied copied={kind.copied} />}
      {kind.is === "change" && kind.state === "packing" && (
        <p>
          Packing has begun, so reference, customer and delivery stay; no line can go below what is packed. To
          finish with what has left already, cut every line to that and clear the lines that are not wanted.
        </p>
      )}
      {kind.is === "change" && kind.newer && <StandingOrder newer={kind.newer} />}
      <Form
        action={kind.is === "new" ? "/orders/new" : `/orders/${kind.orderId}/edit`}
        class="order-form beside"
        id="order-form"
      >
        <FormMistake answer={answer} />
        {kind.is === "change" && (
          <>
            <input type="hidden" name="seen" value={kind.seen} />
            <input type="hidden" name="order" value={kind.orderId} />
          </>
        )}
        <OrderHeadFields kind={kind} answer={answer} customers={choices.customers} />
        <OrderLinesField
          answer={answer}
          products={choices.products}
          currency={typesMoney(kind) ? currency : null}
        />
        {typesMoney(kind) ? (
          <MoneyFields answer={answer} currency={currency} />
        ) : (
          <p class="aside">The order keeps the prices it was confirmed at; new lines take those of today.</p>
        )}
        <div class="form-answers">
          <PromiseField answer={answer} advice={advice} />
          <div
            id="looked-over"
            class="looked-over"
            hx-post="/orders/look-over"
            hx-trigger="input delay:300ms from:#order-form, change delay:300ms from:#order-form"
            hx-include="#order-form"
            hx-swap="innerMorph"
            hx-sync="this:replace"
          >
            <LookedOverPart over={over} products={choices.products} answer={answer} />
          </div>
        </div>
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

/** What the whole order is given off and charged; blank where it is as usual. */
function MoneyFields({ answer, currency }: Pick<OrderFormProps, "answer" | "currency">) {
  return (
    <div class="fields order-money">
      <Field
        name="discount"
        label="Discount on the order, %"
        hint="Off the sum of the lines. Left blank: as the customer usually gets it."
        inputMode="decimal"
        autocomplete="off"
        maxLength={8}
        answer={answer}
      />
      <Field
        name="shipping"
        label={`Shipping, ${currency}`}
        hint="Left blank: as the customer is usually charged."
        inputMode="decimal"
        autocomplete="off"
        maxLength={20}
        answer={answer}
      />
    </div>
  );
}

function Copied({
  copied: { reference, leftOut },
}: {
  readonly copied: { readonly reference: string; readonly leftOut: readonly string[] };
}) {
  return (
    <p class="notice">
      Filled in from {reference}; the date is still to be given.
      {leftOut.length > 0 && ` No longer made, so left out: ${listed(leftOut)}.`}
    </p>
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
        {typesMoney(kind) ? (
          <button type="submit" name="save" value="change">
            Save the change
          </button>
        ) : (
          <button type="submit" name="save" value="look">
            See what it does, then save
          </button>
        )}
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
