import type { OpenRun } from "../../server/bench/queries.ts";
import { StateMark } from "../components/StateMark.tsx";
import { clockWords } from "../format/dates.ts";
import { TapForm } from "./TapForm.tsx";
import { TimeSince } from "./Timers.tsx";

type Begun = OpenRun["begun"][number];

interface BowlStepsProps {
  readonly run: OpenRun;
  /** Bowls that can be in use side by side. */
  readonly mixers: number;
  readonly now: Date;
  readonly timeZone: string;
}

/** The bowls of a run that is being mixed: how far each is, and one tap for what comes next. */
export function BowlSteps({ run, mixers, now, timeZone }: BowlStepsProps) {
  const inMixer = run.begun.filter(({ mixedAt }) => mixedAt === null).length;
  const next = run.begun.length + 1;
  return (
    <ol class="bowls">
      {run.begun.map((bowl) => (
        <li key={bowl.bowl} class="bowl">
          <BowlNow bowl={bowl} of={run.bowls} now={now} timeZone={timeZone} />
          <NextStep run={run} bowl={bowl} isLast={bowl.bowl === run.begun.length} />
        </li>
      ))}
      {next <= run.bowls && inMixer < Math.max(1, mixers) && (
        <li class="bowl">
          <span>
            <strong>{`Bowl ${next} of ${run.bowls}`}</strong>
          </span>
          <BowlTap
            run={run}
            bowl={next}
            step="begun"
            words={`Begin bowl ${next}`}
            quiet={run.begun.some(({ pressedAt }) => pressedAt === null)}
          />
        </li>
      )}
    </ol>
  );
}

function BowlNow({
  bowl: { bowl, startedAt, mixedAt, pressedAt },
  of,
  now,
  timeZone,
}: {
  readonly bowl: Begun;
  readonly of: number;
  readonly now: Date;
  readonly timeZone: string;
}) {
  return (
    <span>
      <strong>{`Bowl ${bowl} of ${of}`}</strong>{" "}
      {pressedAt !== null ? (
        <>
          <StateMark words="pressed" /> {clockWords(startedAt, timeZone)} to {clockWords(pressedAt, timeZone)}
        </>
      ) : mixedAt !== null ? (
        <>
          pressing <TimeSince since={mixedAt} now={now} />
        </>
      ) : (
        <>
          weighing and mixing <TimeSince since={startedAt} now={now} />
        </>
      )}
    </span>
  );
}

function NextStep({
  run,
  bowl: { bowl, mixedAt, pressedAt },
  isLast,
}: {
  readonly run: OpenRun;
  readonly bowl: Begun;
  /** Whether it was begun last: only then can its beginning be taken back. */
  readonly isLast: boolean;
}) {
  const last = pressedAt !== null ? "pressed" : mixedAt !== null ? "mixed" : "begun";
  const mayGoBack = last !== "begun" || (isLast && bowl > 1);
  return (
    <span class="actions">
      {last === "begun" && <BowlTap run={run} bowl={bowl} step="mixed" words="Mix is right, press it" />}
      {last === "mixed" && <BowlTap run={run} bowl={bowl} step="pressed" words={`Bowl ${bowl} is pressed`} />}
      {mayGoBack && (
        <TapForm
          action={`/bench/runs/${run.id}/bowls/put-back`}
          words={backWords[last]}
          quiet
          id={`bowl-back-${run.id}-${bowl}`}
        >
          <BowlFields bowl={bowl} step={last} />
        </TapForm>
      )}
    </span>
  );
}

const backWords = {
  begun: "Not begun after all",
  mixed: "Not right yet",
  pressed: "Not pressed yet",
} as const;

function BowlTap({
  run,
  bowl,
  step,
  words,
  quiet = false,
}: {
  readonly run: OpenRun;
  readonly bowl: number;
  readonly step: "begun" | "mixed" | "pressed";
  readonly words: string;
  readonly quiet?: boolean;
}) {
  return (
    <TapForm action={`/bench/runs/${run.id}/bowls`} words={words} quiet={quiet} id={`bowl-${run.id}-${bowl}`}>
      <BowlFields bowl={bowl} step={step} />
    </TapForm>
  );
}

function BowlFields({ bowl, step }: { readonly bowl: number; readonly step: string }) {
  return (
    <>
      <input type="hidden" name="bowl" value={bowl} />
      <input type="hidden" name="step" value={step} />
    </>
  );
}
