import type { ShownRecall } from "../../server/recalls/queries.ts";
import { StateMark } from "../components/StateMark.tsx";
import { momentWords } from "../format/dates.ts";
import { pieces } from "../format/quantities.ts";
import { gotInAllWords, gotWords, toldWords } from "./recallWords.ts";

/** Everybody who got some of it: whom to reach, what they got, and what was said. Those still to be told come first. */
export function Recipients({
  recall: { id, thing, recipients },
  timeZone,
}: {
  readonly recall: ShownRecall;
  readonly timeZone: string;
}) {
  if (recipients.length === 0) return <p>Nobody outside has any of it.</p>;
  const inOrder = recipients.toSorted((one, other) => one.notices.length - other.notices.length);
  return (
    <>
      <h2>Whom to tell</h2>
      <ul class="plain-list">
        {inOrder.map((recipient) => (
          <li key={recipient.customerId}>
            <WhoAndWhat
              recipient={recipient}
              timeZone={timeZone}
              trace={`/trace/${thing.kind}s/${thing.id}`}
            />
            <Notices recipient={recipient} timeZone={timeZone} />
          </li>
        ))}
      </ul>
      <p class="actions">
        <a class="button quiet" href={`/recalls/${id}/told.csv`} download>
          Save this list as CSV
        </a>
      </p>
    </>
  );
}

interface RecipientProps {
  readonly recipient: ShownRecall["recipients"][number];
  readonly timeZone: string;
}

/** Orders of a customer that are named one by one at most. Who got more gets one line; the file has all of them. */
const MOST_NAMED = 12;

function WhoAndWhat({ recipient, timeZone, trace }: RecipientProps & { readonly trace: string }) {
  const { customerId, customer, kind, contact, address, got, notices } = recipient;
  return (
    <>
      <span class="row">
        <strong>
          <a href={`/setup/customers/${customerId}`}>{customer}</a>
        </strong>
        <StateMark words={notices.length === 0 ? "still to be told" : "told"} urgent={notices.length === 0} />
      </span>
      <span class="under as-typed">
        {[contact, address].filter((words) => words !== "").join("; ") || "Nobody to reach was written down."}
      </span>
      {kind === "market" && (
        <span class="under">Who bought there nobody wrote down: hang a notice where they will read it.</span>
      )}
      {got.length > MOST_NAMED ? (
        <span class="under">
          {gotInAllWords(got, timeZone)}: <a href={`${trace}?customer=${customerId}#who`}>each of them</a>
        </span>
      ) : (
        got.map((part) => (
          <span key={`${part.orderId} ${part.code}`} class="under">
            {gotWords(part, timeZone)}
          </span>
        ))
      )}
    </>
  );
}

function Notices({ recipient: { notices, unitsThere, kind }, timeZone }: RecipientProps) {
  return (
    <>
      {notices.map(({ id, how, at, person, said, unitsBack }) => (
        <span key={id} class="under">
          {toldWords(how)}, {momentWords(at, timeZone)}, by {person ?? "nobody who was noted"}
          {said !== "" && `: ${said}`}
          {unitsBack > 0 && `; ${pieces(unitsBack)} sent back`}
        </span>
      ))}
      {notices.length > 0 && kind === "shop" && (
        <span class="under">
          {unitsThere === 0 ? "All of it came back." : `${pieces(unitsThere)} not sent back.`}
        </span>
      )}
    </>
  );
}
