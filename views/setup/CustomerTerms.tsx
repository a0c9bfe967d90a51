import { ChoiceField, Field, LongField, Mistake, TickField } from "../components/Field.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { wholeWords } from "../format/quantities.ts";
import { CaseField } from "./CaseField.tsx";
import type { TermChoices } from "./CustomerPage.tsx";
import { NumberField } from "./WorkshopFields.tsx";

interface TermsProps {
  readonly answer: FormAnswer;
  readonly currency: string;
}

export const wayWords: Readonly<Record<string, string>> = {
  parcel: "by parcel",
  "local-round": "on the local round",
  collected: "collects it",
  "market-crate": "in the market crate",
};

/** How what is ordered gets there, and how late days weigh. */
export function DeliveryFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <fieldset>
      <legend>Delivery</legend>
      <div class="fields even">
        <ChoiceField
          name="takesBy"
          label="Takes it"
          hint="How what is ordered usually gets there."
          answer={answer}
          blank="not agreed yet"
          choices={Object.entries(wayWords).map(([value, label]) => ({ value, label }))}
        />
        <OptionalNumber
          name="transitDays"
          label="Days under way"
          hint="Working days a parcel takes: they go off a needed-by date."
          answer={answer}
        />
        <NumberField
          name="priorityWeight"
          label="Weight of a late day"
          hint="1 for most, 2 where a late day counts twice. 0.01 to 100. New orders take it over."
          answer={answer}
        />
      </div>
      <TickField
        name="takesPartDeliveries"
        label="Takes part deliveries"
        hint="Unticked: everything in one delivery. Shops only."
        answer={answer}
      />
      <LongField
        name="address"
        label="Address"
        hint="Where parcels go, or where the market is held. Up to 500 characters."
        answer={answer}
        rows={4}
      />
    </fieldset>
  );
}

/** What they pay, and when. */
export function MoneyFields({ answer, choices, currency }: TermsProps & { readonly choices: TermChoices }) {
  return (
    <fieldset>
      <legend>Prices and payment</legend>
      <div class="fields even">
        <ChoiceField
          name="priceList"
          label="Price list"
          hint="Prices of its own go before the list's."
          answer={answer}
          blank="the usual one"
          choices={choices.priceLists.map(({ id, name, kind }) => ({
            value: String(id),
            label: `${name} (${kind})`,
          }))}
        />
        <ChoiceField
          name="taxGroup"
          label="Tax group"
          hint="Which rate is charged. What applies is for you and your adviser to settle."
          answer={answer}
          blank="the usual one"
          choices={choices.taxGroups.map(({ id, name }) => ({ value: String(id), label: name }))}
        />
        <OptionalNumber
          name="orderDiscount"
          label="Off every order, per cent"
          hint="New orders take it over."
          answer={answer}
        />
        <OptionalNumber
          name="shipping"
          label={`Charge for sending, ${currency}`}
          hint="Stated with or without tax as the prices are."
          answer={answer}
        />
        <OptionalNumber
          name="netDays"
          label="Days to pay"
          hint="From delivery; 0: at once."
          answer={answer}
        />
        <OptionalNumber
          name="earlyDiscount"
          label="Off for paying early, per cent"
          hint="0 for none."
          answer={answer}
        />
        <OptionalNumber
          name="earlyDiscountDays"
          label="Early means within, days"
          hint="As in: 2 % within 10 days, else 30 days."
          answer={answer}
        />
      </div>
    </fieldset>
  );
}

/** What an order has to come to, and in what multiples things are sold. */
export function LeastFields({
  answer,
  currency,
  shapes,
}: TermsProps & { readonly shapes: TermChoices["shapes"] }) {
  return (
    <fieldset>
      <legend>Least order and cases</legend>
      <div class="fields even">
        <OptionalNumber
          name="leastOrder"
          label={`Least value of an order, ${currency}`}
          hint="Before shipping. Blank: any."
          answer={answer}
        />
        <OptionalNumber
          name="leastUnits"
          label="Least pieces of an order"
          hint="Blank: any."
          answer={answer}
        />
      </div>
      <Mistake name="casePacks" answer={answer} />
      <div class="fields even">
        {shapes.map((shape, place) => (
          <CaseField
            key={shape.id}
            shape={shape}
            place={place}
            group="casePacks"
            hint={`Blank: ${shape.usualCase === null ? "sold singly" : `${wholeWords(shape.usualCase)}, as for everybody`}.`}
            answer={answer}
          />
        ))}
      </div>
    </fieldset>
  );
}

/** A number that may be left blank. */
function OptionalNumber(props: {
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  readonly answer: FormAnswer;
}) {
  return <Field {...props} inputMode="decimal" autocomplete="off" />;
}
