import { FormMistake, Mistake, marked } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { SetupTrail } from "./SetupTrail.tsx";

/** Rows that are there to be filled in beside those that are known. */
const SPARE_ROWS = 3;

interface PackingListProps {
  readonly product: { readonly id: number; readonly name: string };
  readonly choices: readonly { readonly id: number; readonly name: string }[];
  readonly answer: FormAnswer;
}

/** What a product's pieces are packed with. */
export function PackingListPage({ product, choices, answer }: PackingListProps) {
  const known = typedList(answer, "packedWith");
  const rows = Array.from({ length: known.length + SPARE_ROWS }, (_, place) => place);
  return (
    <>
      <SetupTrail list={{ href: `/setup/products/${product.id}`, name: product.name }} />
      <h1>What is {product.name} packed with?</h1>
      {choices.length === 0 && (
        <p>
          First <a href="/setup/packaging/new">add cups, bags, ties, labels or boxes</a>.
        </p>
      )}
      <Form action={`/setup/products/${product.id}/packing`}>
        <FormMistake answer={answer} />
        <p class="hint">
          So many of it for every so many pieces: one cup for 1 piece, one box for 12. A begun dozen takes a
          box too. Rows left on “nothing” do not count.
        </p>
        <Mistake name="packing" answer={answer} />
        {rows.map((place) => (
          <PackingRow key={place} place={place} choices={choices} answer={answer} />
        ))}
        <div class="actions">
          <button type="submit">Keep this packing list</button>
        </div>
      </Form>
    </>
  );
}

function PackingRow({
  place,
  choices,
  answer,
}: {
  readonly place: number;
  readonly choices: PackingListProps["choices"];
  readonly answer: FormAnswer;
}) {
  const typed = (list: string) => typedList(answer, list)[place] ?? "";
  const names = {
    supply: `packing.${place}.supply`,
    amount: `packing.${place}.amount`,
    forPieces: `packing.${place}.forPieces`,
  };
  return (
    <fieldset class="packing-row" aria-label={`Row ${place + 1}`}>
      <div>
        <label for={names.supply}>Packed with</label>
        <select id={names.supply} name="packedWith" {...marked(names.supply, answer)}>
          <option value="">nothing</option>
          {choices.map(({ id, name }) => (
            <option key={id} value={String(id)} selected={String(id) === typed("packedWith")}>
              {name}
            </option>
          ))}
        </select>
      </div>
      <NumberField
        id={names.amount}
        name="packedAmount"
        label="How many"
        value={typed("packedAmount")}
        answer={answer}
      />
      <NumberField
        id={names.forPieces}
        name="packedFor"
        label="For pieces"
        value={typed("packedFor")}
        answer={answer}
      />
      <div class="line-mistakes">
        {Object.values(names).map((name) => (
          <Mistake key={name} name={name} answer={answer} />
        ))}
      </div>
    </fieldset>
  );
}

function NumberField({
  id,
  name,
  label,
  value,
  answer,
}: {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly answer: FormAnswer;
}) {
  return (
    <div>
      <label for={id}>{label}</label>
      <input
        id={id}
        name={name}
        value={value}
        inputMode="numeric"
        autocomplete="off"
        maxLength={6}
        {...marked(id, answer)}
      />
    </div>
  );
}
