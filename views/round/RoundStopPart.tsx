import type { RoundStop } from "../../server/round/roundQueries.ts";
import { Mistake, marked } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList, typedText } from "../components/formAnswer.ts";
import { StateMark } from "../components/StateMark.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { clockWords } from "../format/dates.ts";
import { minutesWords } from "../format/quantities.ts";
import { arrivalWords, thingWords } from "./roundWords.ts";

interface StopProps {
  readonly stop: RoundStop;
  readonly place: number;
  /** Blank for who may not know it. */
  readonly phone: string;
  readonly on: string;
  readonly timeZone: string;
  readonly answer: FormAnswer;
}

/** One stop: when, where, what to hand over, and the tick at the door. */
export function RoundStopPart({ stop, place, phone, on, timeZone, answer }: StopProps) {
  return (
    <li class="round-stop" id={`stop-${stop.customerId}`}>
      <h2>
        {place + 1}. {stop.customer}
        {stop.arrivesMinute !== null && `, around ${arrivalWords(stop.arrivesMinute)}`}
      </h2>
      <p class="address">{stop.address}</p>
      {phone !== "" && (
        <p>
          <a href={`tel:${phone.replaceAll(/[^\d+]/g, "")}`}>{phone}</a>
        </p>
      )}
      {stop.driveThere !== null && <p class="aside">{minutesWords(stop.driveThere)} to drive there</p>}
      <ul>
        {stop.things.map((thing) => (
          <li key={`${thing.orderId} ${thing.deliveryId}`}>
            <Unbroken words={thingWords(thing)} /> <StateMark words={stateOf(thing, timeZone)} />
          </li>
        ))}
      </ul>
      <HandOver stop={stop} on={on} answer={answer} />
      <TakeBack stop={stop} on={on} />
      <p class="signature print-only">Taken by (name, time)</p>
    </li>
  );
}

function stateOf(
  { deliveryId, deliveredAt, receivedBy }: RoundStop["things"][number],
  timeZone: string,
): string {
  if (deliveryId === null) return "packed, still here";
  if (deliveredAt === null) return "under way";
  const to = receivedBy === "" ? "" : ` to ${receivedBy}`;
  return `handed over${to} at ${clockWords(deliveredAt, timeZone)}`;
}

function HandOver({ stop, on, answer }: Pick<StopProps, "stop" | "on" | "answer">) {
  const ids = stop.things
    .filter(({ deliveryId, deliveredAt }) => deliveryId !== null && deliveredAt === null)
    .map(({ deliveryId }) => String(deliveryId));
  if (ids.length === 0) return null;
  // The form that was refused is shown again as it was typed; those of the other stops are fresh.
  const own = ids.some((id) => typedList(answer, "delivery").includes(id)) ? answer : null;
  const field = `receivedBy-${stop.customerId}`;
  return (
    <Form action="/delivery/round/handing-over" class="narrow not-printed">
      <Carried on={on} ids={ids} />
      <div class="field">
        <label for={field}>Who took it</label>
        <input
          id={field}
          name="receivedBy"
          value={own ? typedText(own, "receivedBy") : ""}
          autocomplete="off"
          maxLength={120}
          {...(own ? marked("receivedBy", own) : {})}
        />
        {own && <Mistake name="receivedBy" answer={own} />}
      </div>
      <button type="submit" aria-label={`Handed over at ${stop.customer}`}>
        Handed over
      </button>
    </Form>
  );
}

function TakeBack({ stop, on }: Pick<StopProps, "stop" | "on">) {
  const ids = stop.things
    .filter(({ deliveryId, deliveredAt }) => deliveryId !== null && deliveredAt !== null)
    .map(({ deliveryId }) => String(deliveryId));
  if (ids.length === 0) return null;
  return (
    <Form action="/delivery/round/taking-back" class="inline not-printed">
      <Carried on={on} ids={ids} />
      <button type="submit" class="quiet" aria-label={`Not handed over at ${stop.customer} after all`}>
        Not handed over after all
      </button>
    </Form>
  );
}

/** The day and the deliveries a form is about. */
function Carried({ on, ids }: { readonly on: string; readonly ids: readonly string[] }) {
  return (
    <>
      <input type="hidden" name="on" value={on} />
      {ids.map((id) => (
        <input key={id} type="hidden" name="delivery" value={id} />
      ))}
    </>
  );
}
