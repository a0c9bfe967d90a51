import { ChoiceField, Field, LongField, Mistake, TickField } from "../components/Field.tsx";
import { Fold } from "../components/Fold.tsx";
import { type FormAnswer, hasMistakeIn, typedText } from "../components/formAnswer.ts";
import { wholeWords } from "../format/quantities.ts";
import { CaseField } from "./CaseField.tsx";
import { casesWords, deliveryWords, moneyTermsWords } from "./customerWords.ts";

/** What the form of a customer offers to choose from. */
export interface TermChoices {
  readonly taxGroups: readonly { readonly id: number; readonly name: string }[];
  readonly priceLists: readonly {
    readonly id: number;
    readonly name: string;
    readonly kind: "retail" | "wholesale";
  }[];
  /** With the usual case of each, null where it is sold singly. */
  readonly shapes: readonly {
    readonly id: number;
    readonly name: string;
    readonly usualCase: number | null;
  }[];
}

interface TermsProps {
  readonly answer: FormAnswer;
  readonly choices: TermChoices;
  readonly currency: string;
}

const wayWords: Readonly<Record<string, string>> = {
  parcel: "by parcel",
  "local-round": "on the local round",
  collected: "collects it",
  "market-crate": "in the market crate",
};

/** How what is ordered gets there, and how late days weigh. */
export function DeliveryFields({ answer, open }: { readonly answer: FormAnswer; readonly open: boolean }) {
  const fields = ["takesBy", "transitDays", "priorityWeight", "takesPartDeliveries", "address"];
  const way = wayWords[typedText(answer, "takesBy")];
  return (
    <Fold name="Delivery" holds={deliveryWords(answer, way)} open={open || hasMistakeIn(answer, fields)}>
      <div class="fields even">
        <ChoiceField
          name="takesBy"
          label="Takes it"
          hint="How what is ordered usually gets there."
          answer={answer}
          blank="not agreed yet"
          choices={Object.entries(wayWords).map(([value, label]) => ({ value, label }))}
        />
        <FoldedNumber
          name="transitDays"
          label="Days under way"
          hint="Working days a parcel takes: they go off a needed-by date."
          answer={answer}
        />
        <FoldedNumber
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
    </Fold>
  );
}

/** What they pay, and when. */
export function MoneyFields({ answer, choices, currency }: TermsProps) {
  const fields = ["priceList", "taxGroup", "orderDiscount", "shipping", "netDays"];
  const early = ["earlyDiscount", "earlyDiscountDays"];
  return (
    <Fold
      name="Prices and payment"
      holds={moneyTermsWords(answer, choices, currency)}
      open={hasMistakeIn(answer, [...fields, ...early])}
    >
      <div class="fields even">
        <ChoiceField
          name="priceList"
          label="Price list"
          hint="Prices of its own go before the list's, with or without tax as the list says."
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
        <FoldedNumber
          name="orderDiscount"
          label="Off every order, per cent"
          hint="New orders take it over."
          answer={answer}
        />
        <FoldedNumber
          name="shipping"
          label={`Charge for sending, ${currency}`}
          hint="Stated with or without tax as the prices are."
          answer={answer}
        />
        <FoldedNumber name="netDays" label="Days to pay" hint="From delivery; 0: at once." answer={answer} />
        <FoldedNumber
          name="earlyDiscount"
          label="Off for paying early, per cent"
          hint="0 for none."
          answer={answer}
        />
        <FoldedNumber
          name="earlyDiscountDays"
          label="Early means within, days"
          hint="As in: 2 % within 10 days, else 30 days."
          answer={answer}
        />
      </div>
    </Fold>
  );
}

/** What an order has to come to, and in what multiples things are sold. */
export function LeastFields({ answer, choices: { shapes }, currency }: TermsProps) {
  return (
    <Fold
      name="Least order and cases"
      holds={casesWords(answer, shapes, currency)}
      open={hasMistakeIn(answer, ["leastOrder", "leastUnits", "casePacks"])}
    >
      <div class="fields even">
        <FoldedNumber
          name="leastOrder"
          label={`Least value of an order, ${currency}`}
          hint="Before shipping. Blank: any."
          answer={answer}
        />
        <FoldedNumber name="leastUnits" label="Least pieces of an order" hint="Blank: any." answer={answer} />
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
    </Fold>
  );
}

/**
 * A number on a phone's keyboard. Not marked as required: a browser cannot show what is missing where it is folded
 * away, so the server says it and unfolds it.
 */
function FoldedNumber(props: {
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  readonly answer: FormAnswer;
}) {
  return <Field {...props} inputMode="decimal" autocomplete="off" />;
}
