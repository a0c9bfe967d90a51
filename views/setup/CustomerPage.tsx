import { Field, FormMistake, LongField } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { counted, wholeWords } from "../format/quantities.ts";
import { ContactsField } from "./ContactsField.tsx";
import { DeliveryFields, LeastFields, MoneyFields, type TermChoices } from "./CustomerTerms.tsx";
import { RadioChoice } from "./RadioChoice.tsx";
import { Retirement } from "./Retirement.tsx";
import { SetupTrail } from "./SetupTrail.tsx";

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
  choices,
  currency,
}: {
  readonly customer: KnownCustomer | null;
  readonly answer: FormAnswer;
  readonly choices: TermChoices;
  readonly currency: string;
}) {
  return (
    <>
      <SetupTrail list={{ href: "/setup/customers", name: "Customers" }} />
      <h1>{customer ? customerSentence(customer) : "A new customer: a shop, or a market?"}</h1>
      {customer && (
        <p class="actions">
          <a class="button quiet" href={`/setup/customers/${customer.id}/prices`}>
            Prices of its own
          </a>
          {customer.kind === "shop" && customer.retiredAt === null && (
            <>
              <a class="button quiet" href={`/setup/customers/${customer.id}/order-page`}>
                Its order page
              </a>
              <a class="button quiet" href={`/orders/standing/new?customer=${customer.id}`}>
                Take up a standing order
              </a>
            </>
          )}
          {customer.kind === "shop" && (
            <a class="button quiet" href={`/invoices/statements/${customer.id}`}>
              What it has to pay
            </a>
          )}
        </p>
      )}
      <Form action={customer ? `/setup/customers/${customer.id}` : "/setup/customers"}>
        <FormMistake answer={answer} />
        <Field name="name" label="Name" answer={answer} maxLength={120} autocomplete="off" required />
        <KindChoice answer={answer} />
        <ContactsField answer={answer} open={customer === null} />
        <DeliveryFields answer={answer} open={customer === null} />
        <MoneyFields answer={answer} choices={choices} currency={currency} />
        <LeastFields answer={answer} choices={choices} currency={currency} />
        <LongField
          name="notes"
          label="Notes"
          hint={`For the owner only. Up to ${wholeWords(2000)} characters.`}
          answer={answer}
          rows={4}
        />
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
