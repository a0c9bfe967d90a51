import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { type CarrierChoice, SentWithField, type ShownParcel } from "./ParcelFields.tsx";
import { parcelWords } from "./parcelWords.ts";

interface ParcelPageProps {
  readonly delivery: { readonly deliveryId: number; readonly reference: string; readonly customer: string };
  /** Null: another one. */
  readonly parcel: ShownParcel | null;
  readonly carriers: readonly CarrierChoice[];
  /** What costs are typed in; null for who does not see them. */
  readonly currency: string | null;
  readonly inOunces: boolean;
  readonly answer: FormAnswer;
}

/** What is known of one parcel; its number and cost often come when it has left. */
export function ParcelPage({ delivery, parcel, carriers, currency, inOunces, answer }: ParcelPageProps) {
  const { deliveryId, reference, customer } = delivery;
  const action = `/delivery/${deliveryId}/parcels${parcel ? `/${parcel.parcelId}` : ""}`;
  return (
    <>
      <p class="trail">
        <a href="/delivery">Delivery</a>
        {" · "}
        <a href={`/delivery/${deliveryId}#parcels`}>
          <Unbroken words={reference} />
        </a>
      </p>
      <h1>
        <Unbroken
          words={
            parcel
              ? `A parcel of ${reference} to ${customer}: ${parcelWords(parcel, inOunces)}.`
              : `Another parcel of ${reference} to ${customer}: what is known of it?`
          }
        />
      </h1>
      <Form action={action} class="narrow">
        <FormMistake answer={answer} />
        <SentWithField name="sentWith" carriers={carriers} kept={parcel} answer={answer} />
        <Field
          name="grams"
          label="Weight in grams"
          hint="As it goes; may come later."
          inputMode="numeric"
          autocomplete="off"
          answer={answer}
        />
        <Field
          name="tracking"
          label="Tracking number"
          hint="As the carrier gave it; may come later."
          autocomplete="off"
          maxLength={120}
          answer={answer}
        />
        {currency !== null && (
          <Field
            name="cost"
            label={`What it cost, in ${currency}`}
            hint="Seen by the owner only."
            inputMode="decimal"
            autocomplete="off"
            answer={answer}
          />
        )}
        <button type="submit">{parcel ? "Keep this" : "Add the parcel"}</button>
      </Form>
      {parcel && (
        <details class="retirement">
          <summary>Written down by mistake</summary>
          <Form action={`${action}/removal`}>
            <p>Taken off the delivery; the history of the order keeps what it was.</p>
            <button type="submit">Take this parcel off</button>
          </Form>
        </details>
      )}
    </>
  );
}
