import type { Batch } from "../../server/batches/queries.ts";
import type { Weighed } from "../../server/batches/weighOut.ts";
import { PageClock } from "../bench/Timers.tsx";
import { FactList } from "../components/FactList.tsx";
import { FormMistake } from "../components/Field.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { PageNews } from "../components/PageNews.tsx";
import { Swatch } from "../components/Swatch.tsx";
import { dayWords, momentWords } from "../format/dates.ts";
import { counted, gramWords } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import { ContentCautions } from "../recipes/ContentCautions.tsx";
import { BowlTimes, PressedPieces } from "./BatchTables.tsx";
import { RecordForm } from "./RecordForm.tsx";
import { WeighOutTable } from "./WeighOutTable.tsx";

export interface BatchSheetProps {
  readonly batch: Batch;
  readonly weighed: Weighed;
  /** The record's form: as it stands, or as it was sent. */
  readonly answer: FormAnswer;
  readonly now: Date;
  readonly timeZone: string;
}

/**
 * All that is to be known of one run, on the phone beside the bowl and on paper: what a batch record of good
 * manufacturing practice asks for (ISO 22716:2007, 7.2 and 7.3, from memory).
 */
export function BatchSheetPage(props: BatchSheetProps) {
  const { batch, weighed, now } = props;
  const isBegun = batch.startedAt !== null;
  return (
    <>
      <p class="trail">
        <a href="/bench">Bench</a>
      </p>
      <div id="batch-now" class="batch-sheet">
        <h1>
          <Swatch look={batch.look} />
          {`Batch sheet: ${batch.look.name}, ${counted(batch.bowls, "bowl")} of ${gramWords(weighed.bowlMilligrams)}`}
        </h1>
        <BatchFacts {...props} />
        <WeighOutTable batch={batch} weighed={weighed} />
        {weighed.parts.length > 0 && <ContentCautions cautions={weighed.cautions} />}
        <BowlTimes {...props} />
        <PressedPieces batch={batch} />
        <PageClock now={now} />
      </div>
      {isBegun ? <RecordForm {...props} /> : <NotBegun answer={props.answer} />}
      <SignOff />
      <PageNews channel="bench" address={`/bench/runs/${batch.id}/sheet`} part="#batch-now" />
    </>
  );
}

function NotBegun({ answer }: Pick<BatchSheetProps, "answer">) {
  return (
    <section class="no-paper">
      <FormMistake answer={answer} />
      <p class="aside">Not begun yet: print it to weigh out by, or tick it off here once the run is begun.</p>
    </section>
  );
}

function BatchFacts({ batch, timeZone }: BatchSheetProps) {
  const { id, sessionDate, recipeVersion, startedAt, formedAt, record, lots, writers } = batch;
  const moment = (at: Date | null) => (at ? momentWords(at, timeZone) : "");
  return (
    <FactList
      facts={[
        ["Run", String(id)],
        ["Lots", listed(lots.map(({ code }) => code))],
        ["Day", dayWords(sessionDate, { year: true })],
        ["Recipe", recipeVersion === null ? "none written" : `version ${recipeVersion}`],
        ["Begun", moment(startedAt)],
        ["All pressed", moment(formedAt)],
        ["Room", record.roomDecidegrees === null ? "" : `${record.roomDecidegrees / 10} °C`],
        ["Humidity", record.humidityPercent === null ? "" : `${record.humidityPercent} %`],
        ["Who", listed(writers)],
        ["What went otherwise", record.note],
      ]}
    />
  );
}

/** For the pen, where somebody checks and releases. */
function SignOff() {
  return (
    <section class="paper-only sign-off" aria-label="Signatures">
      {["Room °C, humidity %", "Weighed by", "Checked by", "Released by, date"].map((words) => (
        <p key={words} class="sign-line">
          {words}
        </p>
      ))}
    </section>
  );
}
