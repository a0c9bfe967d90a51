import { Form } from "../components/Form.tsx";
import { counted } from "../format/quantities.ts";
import { type CarriedFile, CarriedFileFields } from "./CarriedFileFields.tsx";

/** One thing that a name can mean. */
export interface NameChoice {
  readonly value: string;
  readonly label: string;
}

/** A name of the file that nobody here knows. */
export interface AskedName {
  readonly what: "customer" | "product";
  readonly written: string;
  readonly key: string;
  readonly lines: number;
  /** Known names most like it. */
  readonly nearest: readonly NameChoice[];
}

export interface NameChoices {
  readonly customers: readonly NameChoice[];
  readonly products: readonly NameChoice[];
  /** Blends in shapes that are not made yet. */
  readonly makeable: readonly NameChoice[];
}

interface FileNamesPageProps {
  readonly carried: CarriedFile;
  readonly names: readonly (AskedName & { readonly chosen: string; readonly mistake: string | null })[];
  readonly choices: NameChoices;
}

/** What the unknown names of a file mean, asked once for each. */
export function FileNamesPage({ carried, names, choices }: FileNamesPageProps) {
  const one = names.length === 1;
  return (
    <>
      <p class="trail">
        <a href="/orders/import">Another file</a>
      </p>
      <h1>
        Nothing was taken yet: {counted(names.length, "name")} in {carried.fileName} {one ? "is" : "are"} not
        known here.
      </h1>
      <Form action="/orders/import/names" class="narrow">
        <CarriedFileFields carried={carried} />
        <p>
          Say what {one ? "it means" : "each means"}. The answers are remembered for the next file; what you
          add here is added at once. Orders are taken only on the page after this.
        </p>
        {names.map((name, place) => (
          <NameField key={name.key} name={name} place={place} choices={choices} />
        ))}
        <p class="actions">
          <button type="submit">Remember this and go on</button>
          <a class="button quiet" href="/orders/import">
            Mend the file instead
          </a>
        </p>
      </Form>
    </>
  );
}

function NameField({
  name: { what, written, lines, nearest, chosen, mistake },
  place,
  choices,
}: {
  readonly name: FileNamesPageProps["names"][number];
  readonly place: number;
  readonly choices: NameChoices;
}) {
  const id = `name-${place}`;
  const taken = new Set(nearest.map(({ value }) => value));
  const known = (what === "customer" ? choices.customers : choices.products).filter(
    ({ value }) => !taken.has(value),
  );
  return (
    <div class="field">
      <label for={id}>
        The {what} “{written}”
      </label>
      <p class="hint" id={`${id}-hint`}>
        In {counted(lines, "line")}.
      </p>
      <input type="hidden" name="name_is" value={what} />
      <input type="hidden" name="name_written" value={written} />
      <select
        id={id}
        name="name_means"
        aria-describedby={mistake ? `${id}-hint ${id}-mistake` : `${id}-hint`}
        aria-invalid={mistake ? "true" : undefined}
      >
        <option value="">Choose what it means</option>
        <Choices label="Most like it" choices={nearest} chosen={chosen} />
        <Choices label="Lines with it" choices={[LEAVE_OUT]} chosen={chosen} />
        {what === "customer" && <Choices label="Add it" choices={NEW_CUSTOMERS} chosen={chosen} />}
        <Choices label="Known here" choices={known} chosen={chosen} />
        {what === "product" && (
          <Choices label="Add to what is made" choices={choices.makeable} chosen={chosen} />
        )}
      </select>
      {mistake && (
        <p class="mistake" id={`${id}-mistake`}>
          {mistake}
        </p>
      )}
    </div>
  );
}

const LEAVE_OUT: NameChoice = { value: "leave-out", label: "Leave its lines out" };
const NEW_CUSTOMERS: readonly NameChoice[] = [
  { value: "shop", label: "A new shop of this name" },
  { value: "market", label: "A new market of this name" },
];

function Choices({
  label,
  choices,
  chosen,
}: {
  readonly label: string;
  readonly choices: readonly NameChoice[];
  readonly chosen: string;
}) {
  if (choices.length === 0) return null;
  return (
    <optgroup label={label}>
      {choices.map(({ value, label: words }) => (
        <option key={value} value={value} selected={value === chosen}>
          {words}
        </option>
      ))}
    </optgroup>
  );
}
