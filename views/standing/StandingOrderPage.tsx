import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { dayWords, shortDayWords } from "../format/dates.ts";
import { counted, pieces, wholeWords } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { StandingDates } from "./StandingDates.tsx";
import { patternWords, pauseWords, type StandingSummary, stateWords } from "./standingWords.ts";

/** One standing order with everything about it. */
export interface ShownStandingOrder extends StandingSummary {
  readonly startsOn: string;
  readonly endsOn: string | null;
  readonly daysBefore: number;
  readonly note: string;
  readonly lines: readonly {
    readonly productId: number;
    readonly product: string;
    readonly look: BlendLook;
    readonly units: number;
    readonly retired: boolean;
  }[];
  /** Pauses that are not over. */
  readonly pauses: readonly {
    readonly id: number;
    readonly firstDate: string;
    readonly lastDate: string | null;
  }[];
  /** The references of its drafts, by the order's number. */
  readonly drafts: ReadonlyMap<number, { readonly reference: string }>;
}

interface StandingOrderProps {
  readonly order: ShownStandingOrder;
  readonly today: string;
  /** The form of a pause, and why something just asked for was not done. */
  readonly answer: FormAnswer;
}

export function StandingOrderPage({ order, today, answer }: StandingOrderProps) {
  return (
    <>
      <p class="trail">
        <a href="/orders/standing">Standing orders</a>
      </p>
      <h1>
        {sentence(
          `${order.customer} wants ${pieces(order.units)} ${patternWords(order.pattern)}; ${stateWords(order)}`,
        )}
      </h1>
      <FormMistake answer={answer} />
      <Facts order={order} />
      <h2>What it wants each time</h2>
      <Lines order={order} />
      {!order.stopped && (
        <>
          <p class="actions">
            <a class="button" href={`/orders/standing/${order.id}/edit`}>
              Change it
            </a>
          </p>
          <StandingDates order={order} today={today} />
          <Pauses order={order} answer={answer} />
          <Stopping order={order} />
        </>
      )}
    </>
  );
}

function Facts({ order }: { readonly order: ShownStandingOrder }) {
  return (
    <dl class="facts">
      <div>
        <dt>From</dt>
        <dd>{dayWords(order.startsOn, { year: true })}</dd>
      </div>
      <div>
        <dt>Until</dt>
        <dd>{order.endsOn === null ? "further notice" : dayWords(order.endsOn, { year: true })}</dd>
      </div>
      <div>
        <dt>Its draft comes</dt>
        <dd>{order.daysBefore === 0 ? "on the day" : `${counted(order.daysBefore, "day")} before`}</dd>
      </div>
      {order.note !== "" && (
        <div>
          <dt>Note</dt>
          <dd class="as-typed">{order.note}</dd>
        </div>
      )}
    </dl>
  );
}

function Lines({ order: { lines } }: { readonly order: ShownStandingOrder }) {
  return (
    <ul class="plain-list">
      {lines.map((line) => (
        <li key={line.productId} class="row">
          <span>
            <Swatch look={line.look} />
            {line.product}
            {line.retired && <span class="aside said">no longer made: left out of every new draft</span>}
          </span>
          <span class="number">{wholeWords(line.units)}</span>
        </li>
      ))}
    </ul>
  );
}

function Pauses({ order, answer }: { readonly order: ShownStandingOrder; readonly answer: FormAnswer }) {
  return (
    <>
      <h2>Pauses</h2>
      {order.pauses.length > 0 && (
        <ul class="plain-list">
          {order.pauses.map((pause) => (
            <li key={pause.id} class="row">
              <span>Paused {pauseWords(pause)}</span>
              <Form action={`/orders/standing/${order.id}/pauses/${pause.id}/end`}>
                <button
                  type="submit"
                  class="quiet"
                  aria-label={`End the pause of ${shortDayWords(pause.firstDate)}`}
                >
                  Take it up again
                </button>
              </Form>
            </li>
          ))}
        </ul>
      )}
      <Form action={`/orders/standing/${order.id}/pauses`}>
        <div class="fields even narrow-fields">
          <Field name="first_date" label="First day of a pause" type="date" answer={answer} />
          <Field
            name="last_date"
            label="Last day of it"
            hint="Blank: until you take it up again."
            type="date"
            answer={answer}
          />
        </div>
        <button type="submit" class="quiet">
          Pause it
        </button>
      </Form>
    </>
  );
}

function Stopping({ order }: { readonly order: ShownStandingOrder }) {
  return (
    <details class="retirement">
      <summary>Stop it for good …</summary>
      <Form action={`/orders/standing/${order.id}/stop`}>
        <p>
          No further date comes up. Drafts that were made already stay; a stopped one cannot be taken up
          again.
        </p>
        <button type="submit">Yes, stop it</button>
      </Form>
    </details>
  );
}
