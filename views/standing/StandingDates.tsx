import type { StandingDate } from "../../server/standing/standingDates.ts";
import { Form } from "../components/Form.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { dayWords, shortDayWords } from "../format/dates.ts";
import type { ShownStandingOrder } from "./StandingOrderPage.tsx";
import { fateWords } from "./standingWords.ts";

/** The next dates, what becomes of each, and leaving one out. */
export function StandingDates({
  order,
  today,
}: {
  readonly order: ShownStandingOrder;
  readonly today: string;
}) {
  return (
    <>
      <h2>Its next dates</h2>
      {order.dates.length === 0 ? (
        <p>None is left before its end.</p>
      ) : (
        <ul class="plain-list with-button">
          {order.dates.map((date) => (
            <li key={date.date} class="row">
              <span>
                {dayWords(date.date)}
                <span class="aside said">{fateWords(date.fate, today)}</span>
              </span>
              <DateStep order={order} date={date} />
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

function DateStep({
  order,
  date: { date, fate },
}: {
  readonly order: ShownStandingOrder;
  readonly date: StandingDate;
}) {
  switch (fate.is) {
    case "drafted":
      return (
        <a href={`/orders/${fate.orderId}`}>
          <Unbroken words={order.drafts.get(fate.orderId)?.reference ?? "its order"} />
        </a>
      );
    case "left-out":
      return <DateForm order={order} date={date} path="taken-back" words="Let it come" />;
    case "ahead":
      return <DateForm order={order} date={date} path="left-out" words="Leave it out" />;
    case "paused":
      return null;
  }
}

function DateForm({
  order,
  date,
  path,
  words,
}: {
  readonly order: ShownStandingOrder;
  readonly date: string;
  readonly path: "left-out" | "taken-back";
  readonly words: string;
}) {
  return (
    <Form action={`/orders/standing/${order.id}/${path}`}>
      <input type="hidden" name="date" value={date} />
      <button type="submit" class="quiet" aria-label={`${words}: ${shortDayWords(date)}`}>
        {words}
      </button>
    </Form>
  );
}
