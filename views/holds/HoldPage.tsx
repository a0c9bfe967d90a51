import type { LotHold } from "../../server/holds/queries.ts";
import type { Stop } from "../../server/holds/stops.ts";
import type { LotFacts } from "../../server/shelf/queries.ts";
import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { momentWords } from "../format/dates.ts";
import { usePageContext } from "../layout/pageContext.ts";
import { stoppedWords } from "./stopWords.ts";

interface HoldProps {
  readonly lot: LotFacts;
  readonly stops: readonly Stop[];
  readonly holds: readonly LotHold[];
  readonly answer: FormAnswer;
  readonly timeZone: string;
}

/** Putting a lot on hold, letting it go, and what was said both times. */
export function HoldPage({ lot, stops, holds, answer, timeZone }: HoldProps) {
  const held = stops.find(({ kind }) => kind === "held");
  return (
    <>
      <p class="trail">
        <a href="/shelf">Shelf</a>
        {" · "}
        <a href={`/shelf/${lot.id}`}>{lot.code}</a>
      </p>
      <h1>{held ? stoppedWords(lot.code, held) : `What is wrong with lot ${lot.code}, ${lot.product}?`}</h1>
      {held ? <ReleasePart lotId={lot.id} answer={answer} /> : <HoldForm lotId={lot.id} answer={answer} />}
      <EarlierHolds holds={holds} timeZone={timeZone} />
    </>
  );
}

function HoldForm({ lotId, answer }: { readonly lotId: number; readonly answer: FormAnswer }) {
  return (
    <>
      <p>
        While it is on hold nothing of it is packed or sent off, and neither promises nor plans count on it.
        What lies in boxes already stays there until somebody takes it out.
      </p>
      <Form action={`/shelf/${lotId}/hold`} class="narrow not-printed">
        <FormMistake answer={answer} />
        <Field name="reason" label="Reason" hint="In a few words." maxLength={200} answer={answer} />
        <button type="submit">Put it on hold</button>
      </Form>
    </>
  );
}

function ReleasePart({ lotId, answer }: { readonly lotId: number; readonly answer: FormAnswer }) {
  const { person } = usePageContext();
  if (person?.role !== "owner")
    return <p>Leave its pieces where they are. The owner lets it go once it was looked at.</p>;
  return (
    <Form action={`/shelf/${lotId}/hold/release`} class="narrow not-printed">
      <FormMistake answer={answer} />
      <Field
        name="note"
        label="Why it may be packed after all"
        hint="In a few words; it is kept with the reason."
        maxLength={200}
        answer={answer}
      />
      <button type="submit">Let it go</button>
    </Form>
  );
}

function EarlierHolds({ holds, timeZone }: Pick<HoldProps, "holds" | "timeZone">) {
  if (holds.length === 0) return null;
  return (
    <section>
      <h2>What was said</h2>
      <ul class="plain-list narrow">
        {holds.map((hold) => (
          <li key={hold.id}>
            On hold since {momentWords(hold.putAt, timeZone)}, by {hold.putBy ?? "nobody who was noted"}:{" "}
            {hold.reason}
            {hold.releasedAt && (
              <span class="under">
                Let go {momentWords(hold.releasedAt, timeZone)}, by{" "}
                {hold.releasedBy ?? "nobody who was noted"}: {hold.releaseNote}
              </span>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
