import type { AirFigures, Reading, Suggestion } from "../../server/learning/air.ts";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import { momentWords } from "../format/dates.ts";
import { plainNumber } from "../format/quantities.ts";
import { airHeadline, airWords, formulaWords, isTooDamp, pressureWords, ratioWords } from "./airWords.ts";

interface AirPageProps {
  readonly figures: AirFigures;
  readonly timeZone: string;
  /** Whether the one who looks may take a factor into the plan. */
  readonly owner: boolean;
  readonly mistaken: {
    readonly form: "reading" | "reference" | "factor";
    readonly answer: FormAnswer;
  } | null;
}

/** The air of the workshop, and how much longer it suggests drying takes. */
export function AirPage({ figures, timeZone, owner, mistaken }: AirPageProps) {
  const { suggestion, readings, reference, plannedFactor } = figures;
  const answerOf = (form: "reading" | "reference" | "factor") =>
    mistaken?.form === form ? mistaken.answer : null;
  return (
    <>
      <p class="trail">
        <a href="/bench">Bench</a>
      </p>
      <h1>{airHeadline(figures)}</h1>
      {readings[0] && isTooDamp(readings[0]) && <TooDamp />}
      {suggestion && <Suggested suggestion={suggestion} />}
      {suggestion && owner && (
        <Form action="/bench/air/factor" class="air-form">
          <AirField
            form="factor"
            name="dryingFactor"
            label="Times as long, for what is pressed today"
            shown={plainNumber(suggestion.factor)}
            answer={answerOf("factor")}
          />
          <button type="submit">Plan with it</button>
          <p class="aside">
            Planned so far: {plainNumber(plannedFactor)}. It counts from the next plan on; nothing changes by
            itself.
          </p>
        </Form>
      )}
      <Form action="/bench/air" class="air-form">
        <h2>Read it off now</h2>
        <AirFields form="reading" shown={null} answer={answerOf("reading")} />
        <button type="submit" class={suggestion ? "quiet" : undefined}>
          Write it down
        </button>
      </Form>
      {owner && (
        <details open={reference === null || answerOf("reference") !== null}>
          <summary>
            {reference === null ? "The reference day" : `The reference day: ${airWords(reference)}`}
          </summary>
          <Form action="/bench/air/reference" class="air-form">
            <p class="hint">The air of a day on which drying takes as long as your shapes say.</p>
            <AirFields
              form="reference"
              shown={reference ?? readings[0] ?? null}
              answer={answerOf("reference")}
            />
            <button type="submit" class="quiet">
              Take it as the reference day
            </button>
          </Form>
        </details>
      )}
      {readings.length > 0 && <Readings readings={readings} timeZone={timeZone} />}
    </>
  );
}

function TooDamp() {
  return (
    <p class="caution">
      Above about 75&#8239;% citric acid takes up water by itself (Handbook of Pharmaceutical Excipients), and
      pieces may swell or fizz: many makers do not mix then. Never close damp mix in an airtight container.
    </p>
  );
}

function Suggested({ suggestion }: { readonly suggestion: Suggestion }) {
  return (
    <div class="narrow">
      <p>
        Reference day's vapour deficit / today's
        {suggestion.ratio && " × what drying really took here"}: <strong>{formulaWords(suggestion)}</strong>
      </p>
      <p class="aside">
        The deficit is what vapour the air could still take up: saturation pressure × (1 − relative humidity),
        by the formula of Hyland and Wexler (ASHRAE Handbook of Fundamentals 2017, chapter 1). Water leaves at
        its pace (Dalton); alcohol and how thick a piece is are not in it, so it is a suggestion.
      </p>
      <p class="aside">{ratioWords(suggestion)}</p>
    </div>
  );
}

type AirForm = "reading" | "reference" | "factor";

function AirFields({
  form,
  shown,
  answer,
}: {
  readonly form: AirForm;
  readonly shown: { readonly celsiusTenths: number; readonly humidityTenths: number } | null;
  readonly answer: FormAnswer | null;
}) {
  const tenths = (value: number | undefined) => (value === undefined ? "" : plainNumber(value / 10));
  return (
    <>
      <AirField
        form={form}
        name="celsius"
        label="Temperature, °C"
        shown={tenths(shown?.celsiusTenths)}
        answer={answer}
      />
      <AirField
        form={form}
        name="humidity"
        label="Relative humidity, %"
        shown={tenths(shown?.humidityTenths)}
        answer={answer}
      />
    </>
  );
}

function AirField({
  form,
  name,
  label,
  shown,
  answer,
}: {
  readonly form: AirForm;
  readonly name: string;
  readonly label: string;
  readonly shown: string;
  readonly answer: FormAnswer | null;
}) {
  const id = `${form}-${name}`;
  const mistake = answer?.mistakes[name];
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        name={name}
        value={answer === null ? shown : typedText(answer, name)}
        inputMode="decimal"
        autocomplete="off"
        maxLength={8}
        aria-invalid={mistake === undefined ? undefined : "true"}
        aria-describedby={mistake === undefined ? undefined : `${id}-mistake`}
      />
      {mistake !== undefined && (
        <p class="mistake" id={`${id}-mistake`} role="alert">
          {mistake}
        </p>
      )}
    </div>
  );
}

function Readings({
  readings,
  timeZone,
}: {
  readonly readings: readonly Reading[];
  readonly timeZone: string;
}) {
  return (
    <section>
      <h2>Latest readings</h2>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">Air</th>
            <th scope="col">Vapour deficit</th>
            <th scope="col">By</th>
          </tr>
        </thead>
        <tbody>
          {readings.map((reading) => (
            <tr key={reading.id}>
              <th scope="row">{momentWords(reading.at, timeZone)}</th>
              <td data-label="Air">{airWords(reading)}</td>
              <td data-label="Vapour deficit">{pressureWords(reading.deficit)}</td>
              <td data-label="By">{reading.person}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
