import type { LabelsToPrint, WayOut } from "../../server/labels/labelSheet.ts";
import type { SheetRow } from "../../server/labels/queries.ts";
import { ChoiceField, Field, FormMistake } from "../components/Field.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import { counted, pieces } from "../format/quantities.ts";
import { RadioChoice } from "../setup/RadioChoice.tsx";
import { CheckList } from "./CheckList.tsx";
import { LabelPreview } from "./LabelPreview.tsx";
import { labelSizeWords, millimetreWords } from "./lengthWords.ts";
import { NoAdvice } from "./NoAdvice.tsx";
import { SheetDrawing } from "./SheetDrawing.tsx";
import { sideWords } from "./sideWords.ts";

interface PrintLabelsProps {
  readonly labelled: {
    readonly lotId: number | null;
    readonly lotCode: string | null;
    /** ISO 8601; null where nobody knows when the pieces were made. */
    readonly madeOn: string | null;
    readonly productId: number;
    readonly product: string;
    readonly units: number;
    readonly recipeVersion: number | null;
  };
  readonly sheets: readonly SheetRow[];
  readonly labels: LabelsToPrint;
  readonly answer: FormAnswer;
}

/** Labels as they would be printed, looked over, with the way to the paper. */
export function PrintLabelsPage({ labelled, sheets, labels, answer }: PrintLabelsProps) {
  const { lotId, productId } = labelled;
  const address = lotId === null ? `/labels/products/${productId}` : `/labels/lots/${lotId}`;
  return (
    <>
      <p class="trail">
        <a href="/labels">Labels</a>
        {lotId !== null && (
          <>
            {" · "}
            <a href={`/shelf/${lotId}`}>Lot {labelled.lotCode}</a>
          </>
        )}
      </p>
      <h1>{printSentence(labels)}</h1>
      <p>{aboutWords(labelled)}</p>
      {!labels.laid.fits && <NoRoom labels={labels} address={address} madeOn={typedText(answer, "madeOn")} />}
      <div class="label-desk">
        {labels.laid.fits && <LabelPreview sheet={labels.sheet} lines={labels.laid.lines} />}
        <PrintForm
          address={address}
          sheets={sheets}
          labels={labels}
          answer={answer}
          asksForDay={labelled.madeOn === null && isDated(labels.content.durability)}
        />
      </div>
      {lotId !== null && (
        <p class="actions">
          <a class="button quiet" href={`/labels/lots/${lotId}/cards`}>
            Cards for trays and boxes
          </a>
        </p>
      )}
      <CheckList checks={labels.checks} content={labels.content} />
      <NoAdvice />
    </>
  );
}

/** Whether a date would stand there if the day of making were known. */
function isDated(durability: LabelsToPrint["content"]["durability"]): boolean {
  return durability?.kind === "no-day" || durability?.kind === "dated";
}

function printSentence({ laid, checks, sheet, side }: LabelsToPrint): string {
  const where = side === "all" ? "The label" : `The ${side} of the label`;
  if (!laid.fits) return `${where} does not fit ${labelSizeWords({ ...sheet, unit: "mm" })}.`;
  const broken = checks.filter(({ verdict }) => verdict === "broken").length;
  if (broken === 0) return `${where} fits, and nothing was found missing on it.`;
  return `${where} fits; ${counted(broken, "thing is", "things are")} missing or wrong.`;
}

function aboutWords({ product, units, lotCode, recipeVersion }: PrintLabelsProps["labelled"]): string {
  const recipe = recipeVersion === null ? "without a recipe" : `by version ${recipeVersion} of the recipe`;
  return lotCode === null
    ? `${product}, ${recipe}, for no lot.`
    : `${product}, lot ${lotCode}, ${pieces(units)}, ${recipe}.`;
}

/** By how much, and what would hold it. */
function NoRoom({
  labels,
  address,
  madeOn,
}: {
  readonly labels: LabelsToPrint;
  readonly address: string;
  readonly madeOn: string;
}) {
  const { laid, waysOut } = labels;
  if (laid.fits) return null;
  return (
    <div class="notice">
      <p>
        At the smallest letters allowed, {overWords(laid)}. Nothing is printed too small or cut off.
        {waysOut.length === 0 && " None of your sheets holds it: it takes a larger label, or front and back."}
      </p>
      {waysOut.length > 0 && (
        <p class="actions">
          {waysOut.map((way) => (
            <a key={`${way.sheetId} ${way.side}`} class="button" href={wayAddress(address, way, madeOn)}>
              {wayWords(way)}
            </a>
          ))}
        </p>
      )}
    </div>
  );
}

function overWords({ tooHigh, tooWide }: { readonly tooHigh: number; readonly tooWide: number }): string {
  const parts = [
    ...(tooHigh > 0 ? [`the words are ${millimetreWords(tooHigh)} too high`] : []),
    ...(tooWide > 0 ? [`the longest word is ${millimetreWords(tooWide)} too wide`] : []),
  ];
  return parts.length > 0 ? parts.join(" and ") : "the words do not fit into the round";
}

function wayAddress(address: string, { sheetId, side }: WayOut, madeOn: string): string {
  return `${address}?${new URLSearchParams({ sheet: String(sheetId), side, ...(madeOn && { madeOn }) })}`;
}

function wayWords({ sheetName, side }: WayOut): string {
  return side === "all" ? `Take ${sheetName}` : `${side === "front" ? "Front" : "Back"} on ${sheetName}`;
}

function PrintForm({
  address,
  sheets,
  labels,
  answer,
  asksForDay,
}: {
  readonly address: string;
  readonly sheets: readonly SheetRow[];
  readonly labels: LabelsToPrint;
  readonly answer: FormAnswer;
  readonly asksForDay: boolean;
}) {
  return (
    <form method="get" action={address} class="narrow">
      <FormMistake answer={answer} />
      <ChoiceField
        name="sheet"
        label="Sheet"
        answer={answer}
        choices={sheets.map((sheet) => ({
          value: String(sheet.id),
          label: `${sheet.name}, ${labelSizeWords(sheet)}`,
        }))}
      />
      <RadioChoice
        name="side"
        legend="On the label"
        answer={answer}
        options={(["all", "front", "back"] as const).map((side) => ({ value: side, ...sideWords[side] }))}
      />
      {asksForDay && (
        <Field
          name="madeOn"
          label="Made on"
          hint="No run made it, so nobody knows: its date of durability counts from here."
          type="date"
          answer={answer}
        />
      )}
      <div class="fields even">
        <Field
          name="first"
          label="Start at label"
          hint="From 1, row by row, to use up a sheet."
          inputMode="numeric"
          autocomplete="off"
          answer={answer}
        />
        <Field
          name="count"
          label="How many"
          hint="As many as there are pieces, or yours."
          inputMode="numeric"
          autocomplete="off"
          answer={answer}
        />
      </div>
      <SheetDrawing sheet={labels.sheet} first={labels.first} />
      <div class="actions">
        {labels.laid.fits && (
          <button type="submit" formAction={`${address}/labels.pdf`}>
            Print {counted(labels.count, "label")}
          </button>
        )}
        <button type="submit" class="quiet">
          Look again
        </button>
      </div>
      <p class="hint">Print at actual size, without fitting to the page.</p>
    </form>
  );
}
