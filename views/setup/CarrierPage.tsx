import { Field, FormMistake, LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

interface KnownCarrier {
  readonly id: number;
  readonly name: string;
  readonly trackingPattern: string;
  readonly retiredAt: Date | null;
}

/** A carrier to change, or a new one where none is given. */
export function CarrierPage({
  carrier,
  answer,
}: {
  readonly carrier: KnownCarrier | null;
  readonly answer: FormAnswer;
}) {
  const action = carrier ? `/setup/carriers/${carrier.id}` : "/setup/carriers";
  return (
    <>
      <SetupTrail list={{ href: "/setup/carriers", name: "Carriers" }} />
      <h1>
        {carrier
          ? `${carrier.name} takes parcels; they are followed ${carrier.trackingPattern === "" ? "by their number only" : "by a link"}.`
          : "A new carrier: what do you call it?"}
      </h1>
      <Form action={action}>
        <FormMistake answer={answer} />
        <Field name="name" label="Name" hint="As you call it." answer={answer} maxLength={80} required />
        <LongField
          name="services"
          label="Services"
          hint="One a line, in the order in which you use them most. May stay empty."
          answer={answer}
        />
        <Field
          name="tracking"
          label="Where a parcel is followed"
          hint="The carrier's address, with {number} where the number of the parcel goes: https://carrier.example/parcels/{number}. May stay empty."
          autocomplete="off"
          maxLength={500}
          answer={answer}
        />
        <div class="actions">
          <button type="submit">{carrier ? "Keep this" : "Add the carrier"}</button>
        </div>
      </Form>
      {carrier && (
        <Retirement
          action={action}
          name={carrier.name}
          retired={carrier.retiredAt !== null}
          meaning="It is not offered for parcels any more; what it carried stays known."
        />
      )}
    </>
  );
}
