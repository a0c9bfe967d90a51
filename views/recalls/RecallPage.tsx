import type { ShownRecall } from "../../server/recalls/queries.ts";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { momentWords, shortDayWords } from "../format/dates.ts";
import { pieces, spelled } from "../format/quantities.ts";
import { capitalised } from "../format/sentence.ts";
import { PiecesTable } from "../trace/PiecesTable.tsx";
import { LocalRules } from "./LocalRules.tsx";
import { EndForm, NoticeForm } from "./RecallForms.tsx";
import { Recipients } from "./Recipients.tsx";
import { recallHeadline } from "./recallWords.ts";

interface RecallProps {
  readonly recall: ShownRecall;
  readonly notice: FormAnswer;
  readonly end: FormAnswer;
  readonly timeZone: string;
}

/** One recall: whom to tell, who was told and what they said, and what of it is still here. */
export function RecallPage({ recall, notice, end, timeZone }: RecallProps) {
  const { id, thing, code, endedAt, recipients } = recall;
  return (
    <>
      <p class="trail">
        <a href="/recalls">Recalls</a>
        {" · "}
        <a href={`/trace/${thing.kind}s/${thing.id}`}>Trace of {code}</a>
      </p>
      <h1>{recallHeadline(recall)}</h1>
      <Said recall={recall} timeZone={timeZone} />
      <LocalRules />
      <Recipients recall={recall} timeZone={timeZone} />
      {endedAt === null && recipients.length > 0 && (
        <NoticeForm recallId={id} recipients={recipients} answer={notice} />
      )}
      <StillHere recall={recall} />
      <PiecesTable
        name="Where its pieces are"
        lots={recall.lots}
        page={`/trace/${thing.kind}s/${thing.id}`}
      />
      <Batches runs={recall.runs} />
      {endedAt === null && <EndForm recallId={id} answer={end} />}
    </>
  );
}

function Said({ recall, timeZone }: Pick<RecallProps, "recall" | "timeZone">) {
  const { reason, begunAt, begunBy, endedAt, endedBy, endNote } = recall;
  return (
    <p>
      <strong>{reason}</strong>
      <span class="under">
        Recalled {momentWords(begunAt, timeZone)}, by {begunBy ?? "nobody who was noted"}.
      </span>
      {endedAt && (
        <span class="under">
          Ended {momentWords(endedAt, timeZone)}, by {endedBy ?? "nobody who was noted"}: {endNote}
        </span>
      )}
    </p>
  );
}

function StillHere({ recall: { lots, boxes, around, code, endedAt } }: Pick<RecallProps, "recall">) {
  const onShelf = lots.filter(({ here }) => here > 0);
  if (endedAt !== null || onShelf.length + boxes.length + around.length === 0) return null;
  return (
    <section>
      <h2>Still here: set apart, so that nobody takes it</h2>
      <ul class="plain-list narrow">
        {boxes.map(({ orderId, reference, code, units }) => (
          <li key={`${orderId} ${code}`}>
            Take {pieces(units)} of {code} out of the box for{" "}
            <a href={`/packing/${orderId}`}>
              <Unbroken words={reference} />
            </a>
            .
          </li>
        ))}
        {around.map(({ orderId, reference, here }) => (
          <li key={orderId}>
            {capitalised(spelled(here, "piece"))} of {code} {here === 1 ? "is" : "are"} around what stands
            packed for{" "}
            <a href={`/packing/${orderId}`}>
              <Unbroken words={reference} />
            </a>
            : take it out and pack it anew. It does not leave like this.
          </li>
        ))}
        {onShelf.map(({ id, code, here }) => (
          <li key={id}>
            {pieces(here)} of <a href={`/shelf/${id}`}>{code}</a>. Once they are destroyed, count the lot as 0
            with a note.
          </li>
        ))}
      </ul>
    </section>
  );
}

function Batches({ runs }: Pick<ShownRecall, "runs">) {
  if (runs.length === 0) return null;
  return (
    <section>
      <h2>Batches with it</h2>
      <ul class="plain-list narrow">
        {runs.map(({ runId, blend, sessionDate }) => (
          <li key={runId}>
            <a href={`/bench/runs/${runId}/sheet`}>
              {blend}, {shortDayWords(sessionDate)}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
