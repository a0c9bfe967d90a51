import { Form } from "../components/Form.tsx";
import { counted, wholeWords } from "../format/quantities.ts";
import { OrderFileFormat } from "./OrderFileFormat.tsx";

/** Why a file was not taken. */
export type ImportFailure =
  | { readonly is: "no-file" | "too-large" }
  | {
      readonly is: "mistakes";
      readonly fileName: string;
      readonly badLines: number;
      readonly mistakes: number;
      /** The first bad lines with what is wrong on them; there may be more than are told. */
      readonly told: readonly { readonly line: number; readonly sentences: readonly string[] }[];
    };

/** Sending a file of orders, and what is wrong with one that was sent. */
export function ImportPage({ failure }: { readonly failure: ImportFailure | null }) {
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
            At most 2 MB and {wholeWords(5000)} lines. You see what it holds before anything is taken.
          </p>
          <input id="file" name="file" type="file" accept=".csv,text/csv" aria-describedby="file-hint" />
          {failure?.is === "no-file" && <p class="mistake">Choose a file first.</p>}
          {failure?.is === "too-large" && (
            <p class="mistake">This file is larger than 2 MB. Send it in parts.</p>
          )}
        </div>
        <button type="submit">Look at it</button>
      </Form>
      <OrderFileFormat />
    </>
  );
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
