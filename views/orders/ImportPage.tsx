import { LongField, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, freshForm, withMistake } from "../components/formAnswer.ts";
import { counted, wholeWords } from "../format/quantities.ts";
import { RadioChoice } from "../setup/RadioChoice.tsx";
import { FileWatch } from "./FileProgress.tsx";
import { OrderFileFormat } from "./OrderFileFormat.tsx";

/** Why a file was not taken. */
export type ImportFailure =
  | { readonly is: "no-file" | "too-large" | "both" }
  | {
      readonly is: "mistakes";
      readonly fileName: string;
      readonly badLines: number;
      readonly mistakes: number;
      /** The first bad lines with what is wrong on them; there may be more than are told. */
      readonly told: readonly { readonly line: number; readonly sentences: readonly string[] }[];
    };

/** Sending or pasting a file of orders, and what is wrong with one that was sent. */
export function ImportPage({
  failure,
  typed,
}: {
  readonly failure: ImportFailure | null;
  /** What was pasted and chosen, when the page is shown again. */
  readonly typed: FormAnswer | null;
}) {
  const answer = withFailure(typed ?? freshForm({ dates: "iso" }), failure);
  return (
    <>
      <p class="trail">
        <a href="/orders">Orders</a>
      </p>
      <h1>{headline(failure)}</h1>
      {failure?.is === "mistakes" && <BadLines failure={failure} />}
      <Form action="/orders/import" enctype="multipart/form-data" class="narrow order-file">
        <div class="field">
          <label for="file">{failure?.is === "mistakes" ? "The mended file" : "A CSV file of orders"}</label>
          <p class="hint" id="file-hint">
            At most 2 MB and {wholeWords(5000)} lines. You see what it holds before anything is taken; a long
            file takes some seconds.
          </p>
          <input
            id="file"
            name="file"
            type="file"
            accept=".csv,.tsv,.txt,text/csv"
            aria-describedby="file-hint"
          />
          <Mistake name="file" answer={answer} />
        </div>
        <LongField
          name="pasted"
          label="Or the cells of a spreadsheet"
          hint="Copy them with their header line, and paste them here."
          answer={answer}
          rows={5}
        />
        <RadioChoice name="dates" legend="How dates are written" options={DATES} answer={answer} />
        <button type="submit">Look at it</button>
        <FileWatch />
      </Form>
      <p>
        <a href="/orders/import/names">What names in files mean</a>
      </p>
      <OrderFileFormat />
    </>
  );
}

const DATES = [
  { value: "iso", label: "Year first, as in 2027-03-05" },
  { value: "day-first", label: "Day first, as in 5.3.2027 or 05/03/2027" },
  { value: "month-first", label: "Month first, as in 3/5/2027" },
];

function withFailure(answer: FormAnswer, failure: ImportFailure | null): FormAnswer {
  switch (failure?.is) {
    case "no-file":
      return withMistake(answer, "file", "Choose a file first.");
    case "too-large":
      return withMistake(answer, "file", "This file is larger than 2 MB. Send it in parts.");
    case "both":
      return withMistake(answer, "pasted", "Send a file or paste cells, one at a time.");
    default:
      return answer;
  }
}

function headline(failure: ImportFailure | null): string {
  if (failure?.is === "mistakes")
    return `Nothing was taken: ${counted(failure.badLines, "line")} of ${failure.fileName} ${failure.badLines === 1 ? "needs" : "need"} mending.`;
  return failure?.is === "too-large"
    ? "Nothing was taken: the file is too large."
    : "A whole week of orders can come from one file.";
}

function BadLines({ failure }: { readonly failure: Extract<ImportFailure, { readonly is: "mistakes" }> }) {
  const { told, badLines, mistakes } = failure;
  return (
    <section aria-label="What needs mending">
      <p class="aside">
        {mistakes > badLines && `${counted(mistakes, "mistake")} in all. `}
        {badLines > told.length && `The first ${wholeWords(told.length)} bad lines are told here. `}
        The header is line 1.
      </p>
      <table class="stack">
        <thead>
          <tr>
            <th scope="col" class="number">
              Line
            </th>
            <th scope="col">What is wrong</th>
          </tr>
        </thead>
        <tbody>
          {told.map(({ line, sentences }) => (
            <tr key={line}>
              <th scope="row" class="number" data-label="Line">
                {wholeWords(line)}
              </th>
              <td class="as-typed">{sentences.join("\n")}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
