import type { AmountUnit, MassUnit } from "../../server/recipes/amounts.ts";
import { ChoiceField, Field, FormMistake } from "../components/Field.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { dayWords } from "../format/dates.ts";
import { gramWords, plainNumber } from "../format/quantities.ts";
import { RecipeSheet, type RecipeSheetProps } from "./RecipeSheet.tsx";
import { amountWords, massUnitChoices } from "./recipeWords.ts";

interface Version {
  readonly id: number;
  readonly version: number;
  readonly validFrom: string;
  readonly note: string;
  readonly writtenForThousandths: number | null;
  readonly writtenForUnit: (AmountUnit & MassUnit) | null;
  readonly createdBy: string | null;
  /** Whether it is the one that holds today. */
  readonly holds: boolean;
}

interface RecipePageProps {
  readonly blend: BlendLook & { readonly id: number };
  readonly versions: readonly Version[];
  readonly shown: Version | null;
  readonly sheet: RecipeSheetProps | null;
  readonly answer: FormAnswer;
  readonly owner: boolean;
}

/** What one bowl of a blend is weighed from. */
export function RecipePage({ blend, versions, shown, sheet, answer, owner }: RecipePageProps) {
  return (
    <>
      <p class="trail">
        <a href="/recipes">Recipes</a>
      </p>
      <h1>
        <Swatch look={blend} />
        {recipeSentence(blend, shown, sheet)}
      </h1>
      {shown && sheet && (
        <>
          {!shown.holds && (
            <p class="notice">This is version {shown.version}, which is not the one that holds today.</p>
          )}
          <ScalingForm blendId={blend.id} version={shown.version} answer={answer} />
          <RecipeSheet {...sheet} />
          <WrittenBy shown={shown} />
        </>
      )}
      {owner && (
        <p class="actions">
          <a class="button" href={`/recipes/${blend.id}/new`}>
            {shown ? "Write a new version" : "Write its recipe"}
          </a>
        </p>
      )}
      {shown && versions.length > 1 && <Versions {...{ blend, versions, shown }} />}
    </>
  );
}

function recipeSentence({ name }: BlendLook, shown: Version | null, sheet: RecipeSheetProps | null): string {
  if (!shown || !sheet) return `${name} has no recipe yet.`;
  if (sheet.scents.some(({ verdict }) => verdict === "above"))
    return `Do not mix ${name}: too much scent oil.`;
  return `${name}: weigh ${gramWords(sheet.wholeMilligrams)} from ${plainNumber(sheet.parts.length)} parts.`;
}

const scaleChoices = [
  { value: "10", label: "hundredths of a gram" },
  { value: "100", label: "tenths of a gram" },
  { value: "500", label: "half grams" },
  { value: "1000", label: "whole grams" },
  { value: "2000", label: "every 2 g" },
  { value: "5000", label: "every 5 g" },
];

function ScalingForm({
  blendId,
  version,
  answer,
}: {
  readonly blendId: number;
  readonly version: number;
  readonly answer: FormAnswer;
}) {
  return (
    <form method="get" action={`/recipes/${blendId}`} class="scaling">
      <FormMistake answer={answer} />
      <input type="hidden" name="version" value={version} />
      <Field name="for" label="For so much mix" answer={answer} inputMode="decimal" autocomplete="off" />
      <ChoiceField name="unit" label="Unit" answer={answer} choices={massUnitChoices} />
      <ChoiceField name="scale" label="The scale shows" answer={answer} choices={scaleChoices} />
      <button type="submit">Weigh it out</button>
    </form>
  );
}

function WrittenBy({ shown }: { readonly shown: Version }) {
  const { version, validFrom, createdBy, note, writtenForThousandths, writtenForUnit } = shown;
  const writtenFor =
    writtenForThousandths === null || writtenForUnit === null
      ? ""
      : `, for ${amountWords(writtenForThousandths, writtenForUnit)}`;
  return (
    <>
      <p class="aside">
        Version {version}, from {dayWords(validFrom, { year: true })} on, written
        {createdBy && ` by ${createdBy}`}
        {writtenFor}.
      </p>
      {note !== "" && <p class="recipe-note">{note}</p>}
    </>
  );
}

function Versions({
  blend,
  versions,
  shown,
}: Pick<RecipePageProps, "blend" | "versions"> & { readonly shown: Version }) {
  return (
    <section class="versions" aria-label="Versions">
      <h2>Versions</h2>
      <ul class="plain-list">
        {versions.map(({ id, version, validFrom, holds }) => (
          <li key={id} class="row">
            <a
              href={`/recipes/${blend.id}?version=${version}`}
              aria-current={version === shown.version ? "page" : undefined}
            >
              Version {version}
            </a>
            <span>
              from {dayWords(validFrom, { year: true })}
              {holds && ", holds today"}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
