import type { ShownRecall } from "../../server/recalls/queries.ts";
import { StateMark } from "../components/StateMark.tsx";
import { momentWords } from "../format/dates.ts";
import { spelled } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";
import { recallHeadline } from "./recallWords.ts";

/** Every recall there was, the newest first. */
export function RecallsPage({
  recalls,
  timeZone,
}: {
  readonly recalls: readonly ShownRecall[];
  readonly timeZone: string;
}) {
  const open = recalls.filter(({ endedAt }) => endedAt === null).length;
  return (
    <>
      <p class="trail">
        <a href="/trace">Trace</a>
      </p>
      <h1>{open === 0 ? "Nothing is recalled." : sentence(`${spelled(open, "recall")} not over`)}</h1>
      <p>A recall begins on the trace of a lot of pieces, or of a lot of a supply.</p>
      <ul class="plain-list">
        {recalls.map((recall) => (
          <li key={recall.id}>
            <span class="row">
              <a href={`/recalls/${recall.id}`}>{recallHeadline(recall)}</a>
              <StateMark
                words={recall.endedAt === null ? "recalled" : "over"}
                urgent={recall.endedAt === null}
              />
            </span>
            <span class="under">
              {recall.reason}; {momentWords(recall.begunAt, timeZone)}
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}

/** Recalls of which something is still to be done: nothing at all where there is none. */
export function UnfinishedRecalls({ recalls }: { readonly recalls: readonly ShownRecall[] }) {
  if (recalls.length === 0) return null;
  return (
    <section>
      <h2>Recalled</h2>
      <ul class="plain-list">
        {recalls.map((recall) => (
          <li key={recall.id}>
            <a href={`/recalls/${recall.id}`}>{recallHeadline(recall)}</a>
            <span class="under">{recall.reason}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
