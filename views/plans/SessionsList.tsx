import { Swatch } from "../components/Swatch.tsx";
import { clockWords, dayWords, momentWords, shortDayWords } from "../format/dates.ts";
import { counted, minutesWords, pieces, plainNumber, wholeWords } from "../format/quantities.ts";
import { listed } from "../format/sentence.ts";
import { usePageContext } from "../layout/pageContext.ts";
import type { BatchFigures, DryingFigures, RunFigures, SessionFigures } from "./planFigures.ts";

/** The plan by session: what to mix, light before dark, and whom each batch is for. */
export function SessionsList({
  sessions,
  drying,
}: {
  readonly sessions: readonly SessionFigures[];
  readonly drying: readonly DryingFigures[];
}) {
  const busy = sessions.filter(({ runs, unmolded, packed }) => runs.length + unmolded + packed > 0);
  return (
    <section>
      <h2 id="sessions">Session by session</h2>
      {busy.length === 0 && <p>Nothing has to be mixed: the shelf serves every order.</p>}
      {busy.map((session) => (
        <SessionSheet key={session.startsAt.toISOString()} session={session} />
      ))}
      {drying.length > 0 && <DryingAlready drying={drying} />}
    </section>
  );
}

function SessionSheet({ session }: { readonly session: SessionFigures }) {
  const timeZone = usePageContext().workshop?.timeZone ?? "UTC";
  const { unmolded, packed, runs } = session;
  const also = [
    unmolded > 0 ? `unmold ${pieces(unmolded)}` : "",
    packed > 0 ? `pack ${pieces(packed)}` : "",
  ].filter((words) => words !== "");
  return (
    <article class="plan-session">
      <div>
        <h3>{dayWords(session.date)}</h3>
        <p>
          {clockWords(session.startsAt, timeZone)} to {clockWords(session.endsAt, timeZone)}
        </p>
        <p class="aside">
          {minutesWords(session.handMinutesUsed)} of {minutesWords(session.handMinutes)} of hands
          {session.dryingFactor !== 1 && `; drying takes ${plainNumber(session.dryingFactor)} times as long`}
        </p>
      </div>
      <div class="plan-runs">
        {runs.map((run, index) => (
          <Run key={run.look.name} run={run} turn={runs.length > 1 ? `${index + 1}. ` : ""} />
        ))}
        {also.length > 0 && (
          <p>
            {runs.length > 0 ? "Also " : "Only "}
            {listed(also)}.
          </p>
        )}
      </div>
    </article>
  );
}

/** `turn` says which run of the session it is, where there are several: light is mixed before dark. */
function Run({ run, turn }: { readonly run: RunFigures; readonly turn: string }) {
  return (
    <div>
      <p>
        {turn}
        <Swatch look={run.look} />
        <strong>{run.look.name}</strong>, {counted(run.bowls, "bowl")}
      </p>
      <ul class="batches">
        {run.batches.map((batch) => (
          <Batch key={batch.anchor} batch={batch} />
        ))}
      </ul>
    </div>
  );
}

function DryingAlready({ drying }: { readonly drying: readonly DryingFigures[] }) {
  return (
    <>
      <h3>Drying already</h3>
      <ul class="batches sheet drying-already">
        {drying.map((batch) => (
          <Batch key={batch.anchor} batch={batch} look={batch.look} />
        ))}
      </ul>
    </>
  );
}

function Batch({ batch, look }: { readonly batch: BatchFigures; readonly look?: DryingFigures["look"] }) {
  const timeZone = usePageContext().workshop?.timeZone ?? "UTC";
  const { unmoldedAt, packedOn, holdsMold } = batch;
  const freed = holdsMold ? "Out of its molds" : "Firm enough to lift";
  const leaves = unmoldedAt === null ? "" : `${freed} ${momentWords(unmoldedAt, timeZone)}. `;
  return (
    <li id={batch.anchor} tabindex={-1}>
      {look && <Swatch look={look} />}
      <strong>{wholeWords(batch.units)}</strong> × {batch.product}
      <span>{servesWords(batch)}</span>
      <span class="aside">
        {leaves}
        {packedOn === null ? "Not ready within the days planned." : `Packed ${shortDayWords(packedOn)}.`}
      </span>
    </li>
  );
}

function servesWords({ serves, leftOver }: BatchFigures): string {
  const parts = serves.map(({ order, customer, units }) =>
    customer === "" ? `${order} (${wholeWords(units)})` : `${order} ${customer} (${wholeWords(units)})`,
  );
  if (leftOver > 0) parts.push(`shelf (${wholeWords(leftOver)})`);
  return `for ${parts.join(", ")}`;
}
