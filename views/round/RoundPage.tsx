import type { DayRound } from "../../server/round/roundQueries.ts";
import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { dayAfter, dayBefore, dayWords } from "../format/dates.ts";
import { spelled } from "../format/quantities.ts";
import { capitalised, sentence } from "../format/sentence.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { RoundStopPart } from "./RoundStopPart.tsx";
import { arrivalWords, orderWords } from "./roundWords.ts";

interface RoundPageProps {
  readonly round: DayRound;
  /** Whom to ring, by customer, for those who may know. */
  readonly phones: ReadonlyMap<number, string>;
  readonly on: string;
  readonly today: string;
  readonly timeZone: string;
  readonly answer: FormAnswer;
}

/** The round of a day, stop after stop, as it is driven and ticked off at the doors. */
export function RoundPage({ round, phones, on, today, timeZone, answer }: RoundPageProps) {
  return (
    <>
      <p class="trail not-printed">
        <a href="/delivery">Delivery</a>
      </p>
      <h1>{answerOf(round, on, today)}</h1>
      <FormMistake answer={answer} />
      {orderWords(round).map((words) => (
        <p key={words}>{words}</p>
      ))}
      <Departure round={round} on={on} />
      <ol class="plain-list">
        {round.stops.map((stop, place) => (
          <RoundStopPart
            key={stop.customerId}
            {...{ stop, place, on, timeZone, answer }}
            phone={phones.get(stop.customerId) ?? ""}
          />
        ))}
      </ol>
      <Ways on={on} />
    </>
  );
}

function answerOf({ stops, homeMinute, unplaced }: DayRound, on: string, today: string): string {
  const day = on === today ? "today" : `on ${dayWords(on)}`;
  if (stops.length === 0) return sentence(`no stop on the local round ${day}`);
  const open = stops.filter(({ things }) => things.some(({ deliveredAt }) => deliveredAt === null)).length;
  if (open === 0) return sentence(`the round ${day} is done: ${spelled(stops.length, "stop")}`);
  const back = unplaced < stops.length ? `, back around ${arrivalWords(homeMinute)}` : "";
  return sentence(`${spelled(open, "stop")} to go on the local round ${day}${back}`);
}

/** What stands packed leaves together. */
function Departure({ round, on }: Pick<RoundPageProps, "round" | "on">) {
  const packed = round.stops.flatMap(({ things }) => things.filter(({ deliveryId }) => deliveryId === null));
  if (packed.length === 0) return null;
  const words = `${spelled(packed.length, "packed order")} ${packed.length === 1 ? "leaves" : "leave"} now`;
  return (
    <Form action="/delivery/round/departure" class="actions not-printed">
      <input type="hidden" name="on" value={on} />
      {packed.map(({ orderId }) => (
        <input key={orderId} type="hidden" name="order" value={String(orderId)} />
      ))}
      <button type="submit">{capitalised(words)}</button>
    </Form>
  );
}

function Ways({ on }: Pick<RoundPageProps, "on">) {
  const { person } = usePageContext();
  return (
    <p class="actions not-printed">
      <a class="button quiet" href={`/delivery/round/sheet.pdf?on=${on}`} download>
        Save the round sheet as PDF
      </a>
      <a class="button quiet" href={`/delivery/round?on=${dayBefore(on)}`}>
        The day before
      </a>
      <a class="button quiet" href={`/delivery/round?on=${dayAfter(on)}`}>
        The day after
      </a>
      {person?.role === "owner" && (
        <a class="button quiet" href="/setup/round">
          Places and driving
        </a>
      )}
    </p>
  );
}
