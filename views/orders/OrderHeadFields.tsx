import { ChoiceField, Field } from "../components/Field.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import type { OrderChoices, OrderFormKind } from "./orderForm.ts";
import { termsWords } from "./stateWords.ts";

interface HeadProps {
  readonly kind: OrderFormKind;
  readonly answer: FormAnswer;
  readonly customers: OrderChoices["customers"];
}

const termsChoices = (["complete", "as-ready", "market"] as const).map((terms) => ({
  value: terms,
  label: termsWords(terms),
}));

/** For whom, by when, how; all but the date is fixed as soon as packing has begun. */
export function OrderHeadFields({ kind, answer, customers }: HeadProps) {
  if (kind.is === "change" && kind.state === "packing")
    return <FixedHead answer={answer} customers={customers} />;
  return (
    <div class="fields order-head">
      <ChoiceField
        name="customer"
        label="Customer"
        hint="A shop or a market."
        answer={answer}
        blank="Choose a customer"
        choices={customers.map(({ id, name, kind: shopOrMarket }) => ({
          value: String(id),
          label: shopOrMarket === "market" ? `${name} (market)` : name,
        }))}
      />
      <DateFields answer={answer} />
      <ChoiceField
        name="terms"
        label="Delivery"
        hint="How it leaves."
        answer={answer}
        {...(kind.is === "new" ? { blank: "as the customer usually takes it" } : {})}
        choices={termsChoices}
      />
      <Field
        name="reference"
        label="Reference"
        hint={
          kind.is === "new"
            ? `Left blank: ${kind.next.shop}, or ${kind.next.market} for a market.`
            : "The number both sides quote."
        }
        answer={answer}
        maxLength={40}
        autocomplete="off"
      />
      <CustomerReferenceField answer={answer} />
    </div>
  );
}

function CustomerReferenceField({ answer }: { readonly answer: FormAnswer }) {
  return (
    <Field
      name="customer_reference"
      label="Their own number"
      hint="What the customer calls it, if they do."
      answer={answer}
      maxLength={60}
      autocomplete="off"
    />
  );
}

function FixedHead({ answer, customers }: Omit<HeadProps, "kind">) {
  const customer = customers.find(({ id }) => String(id) === typedText(answer, "customer"));
  const terms = termsChoices.find(({ value }) => value === typedText(answer, "terms"));
  return (
    <>
      {["reference", "customer", "terms"].map((name) => (
        <input key={name} type="hidden" name={name} value={typedText(answer, name)} />
      ))}
      <dl class="facts">
        <div>
          <dt>Reference</dt>
          <dd>{typedText(answer, "reference")}</dd>
        </div>
        <div>
          <dt>Customer</dt>
          <dd>{customer?.name}</dd>
        </div>
        <div>
          <dt>Delivery</dt>
          <dd>{terms?.label}</dd>
        </div>
      </dl>
      <div class="fields order-head">
        <DateFields answer={answer} />
        <CustomerReferenceField answer={answer} />
      </div>
    </>
  );
}

/** Either is enough: the days on the way lie between them. */
function DateFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <Field
        name="needed_by"
        label="Needed by"
        hint="The day the customer must have it, if they said one."
        type="date"
        answer={answer}
      />
      <Field
        name="ship_by"
        label="Ship by"
        hint="Packed by this day it is on time. Left blank: reckoned from Needed by."
        type="date"
        answer={answer}
      />
    </>
  );
}
