import { FormMistake, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import { dayWords } from "../format/dates.ts";
import { moneyWords } from "../format/money.ts";
import { counted, pieces, wholeWords } from "../format/quantities.ts";

interface ToBill {
  readonly basis: "left" | "whole";
  readonly units: number;
  readonly grossMinor: number;
}

export interface WriteInvoicePageProps {
  readonly order: { readonly id: number; readonly reference: string; readonly customer: string };
  /** Why nothing can be billed; null where something can. */
  readonly refusal: string | null;
  readonly currency: string;
  readonly lines: readonly {
    readonly orderLineId: number;
    readonly product: string;
    readonly orderedUnits: number;
    readonly sentUnits: number;
    readonly billedUnits: number;
  }[];
  /** What each way would bill; those that would bill nothing are left out. */
  readonly offers: readonly ToBill[];
  readonly netDays: number;
  readonly dueOn: string;
  readonly headingIsBlank: boolean;
  readonly answer: FormAnswer;
}

/** What there is to bill of an order, and the form that writes the invoice. */
export function WriteInvoicePage(props: WriteInvoicePageProps) {
  const { order, refusal, offers, netDays, dueOn, headingIsBlank, answer } = props;
  return (
    <>
      <p class="trail">
        <a href={`/orders/${order.id}`}>{order.reference}</a>
      </p>
      <h1>{headline(props)}</h1>
      {refusal === null && <Progress lines={props.lines} />}
      {offers.length > 0 && (
        <>
          {headingIsBlank && (
            <p class="notice">
              The heading of your papers has no address yet, and an invoice keeps the heading it is written
              under: <a href="/setup/heading">write it first</a>.
            </p>
          )}
          <Form action={`/invoices/of-order/${order.id}`}>
            <FormMistake answer={answer} />
            <Offers {...props} />
            <p>
              Payable by {dayWords(dueOn, { year: true })}
              {netDays > 0 && `, ${counted(netDays, "calendar day")} from today`}, to {order.customer}.
            </p>
            <p class="aside">
              It gets the next number of the year and is never changed: what turns out wrong is corrected by a
              credit note.
            </p>
            <div class="actions">
              <button type="submit">Write the invoice</button>
            </div>
          </Form>
        </>
      )}
    </>
  );
}

function headline({ order, refusal, offers, currency }: WriteInvoicePageProps): string {
  if (refusal !== null) return refusal;
  const [first] = offers;
  if (!first) return `All of ${order.reference} is billed.`;
  const money = moneyWords(first.grossMinor, currency);
  return first.basis === "left"
    ? `${pieces(first.units)} of ${order.reference} have left and are not billed: ${money}.`
    : `Nothing of ${order.reference} has left unbilled; billed ahead, it is ${money}.`;
}

function Progress({ lines }: Pick<WriteInvoicePageProps, "lines">) {
  return (
    <table class="stack">
      <thead>
        <tr>
          <th scope="col">Product</th>
          {["Ordered", "Sent", "Billed"].map((name) => (
            <th key={name} scope="col" class="number">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.orderLineId}>
            <th scope="row">{line.product}</th>
            <td data-label="Ordered" class="number">
              {wholeWords(line.orderedUnits)}
            </td>
            <td data-label="Sent" class="number">
              {wholeWords(line.sentUnits)}
            </td>
            <td data-label="Billed" class="number">
              {wholeWords(line.billedUnits)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Offers({ offers, currency, answer }: WriteInvoicePageProps) {
  const chosen = typedText(answer, "basis") || offers[0]?.basis;
  const wrong = answer.mistakes.basis !== undefined;
  return (
    <fieldset class="choices" aria-describedby={wrong ? "basis-mistake" : undefined}>
      <legend>What to bill</legend>
      <div class="choices-list">
        {offers.map(({ basis, units, grossMinor }) => (
          <label key={basis} class="choice">
            <input type="radio" name="basis" value={basis} checked={basis === chosen} />
            <span>
              {basis === "left" ? "what has left" : "the whole order, ahead"}
              <span class="hint">
                {pieces(units)}, {moneyWords(grossMinor, currency)}
                {basis === "left"
                  ? ". What was ordered and not sent stands on it, unbilled."
                  : ". For who pays first. What has not left by now stands on it."}
              </span>
            </span>
          </label>
        ))}
      </div>
      <Mistake name="basis" answer={answer} />
    </fieldset>
  );
}
