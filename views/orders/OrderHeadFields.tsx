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

/** Reference, customer and delivery; fixed as soon as packing has begun. */
export function OrderHeadFields({ kind, answer, customers }: HeadProps) {
  if (kind.is === "change" && kind.packing) return <FixedHead answer={answer} customers={customers} />;
  return (
    <div class="fields">
      <ChoiceField
        name="customer"
        label="Customer"
        answer={answer}
        blank="Choose a customer"
        choices={customers.map(({ id, name, kind: shopOrMarket }) => ({
          value: String(id),
          label: shopOrMarket === "market" ? `${name} (market)` : name,
        }))}
      />
      <Field
        name="reference"
        label="Reference"
        {...(kind.is === "new"
          ? { hint: `Left blank: ${kind.next.shop}, or ${kind.next.market} for a market.` }
          : {})}
        answer={answer}
        maxLength={40}
        autocomplete="off"
      />
      <ChoiceField
        name="terms"
        label="Delivery"
        answer={answer}
        {...(kind.is === "new" ? { blank: "as the customer usually takes it" } : {})}
        choices={termsChoices}
      />
    </div>
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
        <dt>Reference</dt>
        <dd>{typedText(answer, "reference")}</dd>
        <dt>Customer</dt>
        <dd>{customer?.name}</dd>
        <dt>Delivery</dt>
        <dd>{terms?.label}</dd>
      </dl>
    </>
  );
}
