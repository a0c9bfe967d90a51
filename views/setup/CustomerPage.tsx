import { Field, FormMistake, LongField, TickField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { counted, wholeWords } from "../format/quantities.ts";
import { RadioChoice } from "./RadioChoice.tsx";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";
import { NumberField } from "./WorkshopFields.tsx";

interface KnownCustomer {
  readonly id: number;
  readonly name: string;
  readonly kind: "shop" | "market";
  readonly orders: number;
  readonly retiredAt: Date | null;
}

/** A customer to change, or a new one where none is given. */
export function CustomerPage({
  customer,
  answer,
}: {
  readonly customer: KnownCustomer | null;
  readonly answer: FormAnswer;
}) {
  return (
    <>
      <SetupTrail list={{ href: "/setup/customers", name: "Customers" }} />
      <h1>{customer ? customerSentence(customer) : "A new customer: a shop, or a market?"}</h1>
      <Form action={customer ? `/setup/customers/${customer.id}` : "/setup/customers"} class="narrow">
        <FormMistake answer={answer} />
        <Field name="name" label="Name" answer={answer} maxLength={120} autocomplete="off" required />
        <KindChoice answer={answer} />
        <TermsFields answer={answer} />
        <ContactFields answer={answer} />
        <div class="actions">
          <button type="submit">{customer ? "Keep this" : "Add the customer"}</button>
        </div>
      </Form>
      {customer && (
        <Retirement
          action={`/setup/customers/${customer.id}`}
          name={customer.name}
          retired={customer.retiredAt !== null}
          meaning="No new orders are taken from it; those it has are made and sent as before."
        />
      )}
    </>
  );
}

function customerSentence({ name, kind, orders }: KnownCustomer): string {
  return orders === 0
    ? `${name}, a ${kind} with no order yet.`
    : `${name}, a ${kind} with ${counted(orders, "order")} so far.`;
}

function KindChoice({ answer }: { readonly answer: FormAnswer }) {
  return (
    <RadioChoice
      name="kind"
      legend="Kind"
      answer={answer}
      options={[
        {
          value: "shop",
          label: "shop",
          meaning: "Buys wholesale by a date; each day late counts against the plan.",
        },
        {
          value: "market",
          label: "market",
          meaning: "A stall on a date: what is not ready on the day is lost trade.",
        },
      ]}
    />
  );
}

function TermsFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <TickField
        name="takesPartDeliveries"
        label="Takes part deliveries"
        hint="Unticked: everything in one delivery. Shops only."
        answer={answer}
      />
      <NumberField
        name="priorityWeight"
        label="Weight of a late day"
        hint="Against the others: 1 for most, 2 where a late day counts twice. 0.01 to 100. New orders take it over."
        answer={answer}
      />
    </>
  );
}

function ContactFields({ answer }: { readonly answer: FormAnswer }) {
  return (
    <>
      <Field name="contactName" label="Contact" answer={answer} maxLength={120} autocomplete="off" />
      <Field name="email" label="E-mail address" type="email" answer={answer} autocomplete="off" />
      <Field name="phone" label="Telephone" type="tel" answer={answer} maxLength={60} autocomplete="off" />
      <LongField
        name="address"
        label="Address"
        hint="Where parcels go, or where the market is held. Up to 500 characters."
        answer={answer}
        rows={4}
      />
      <LongField
        name="notes"
        label="Notes"
        hint={`For the owner only. Up to ${wholeWords(2000)} characters.`}
        answer={answer}
        rows={4}
      />
    </>
  );
}
