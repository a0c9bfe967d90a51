import type { LotFacts } from "../../server/shelf/queries.ts";
import { ChoiceField, Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { pieces } from "../format/quantities.ts";
import { PlaceField } from "./ShelfPlacesPage.tsx";
import { causeWords } from "./shelfWords.ts";

interface LotFormProps {
  readonly lot: LotFacts;
  readonly answer: FormAnswer;
}

/** Pieces that broke, swelled or were kept. */
export function LossForm({ lot, answer }: LotFormProps) {
  return (
    <Form action={`/shelf/${lot.id}/loss`} class="sheet">
      <h2>Some are lost</h2>
      <FormMistake answer={answer} />
      <Field
        name="lostUnits"
        label="Pieces lost"
        inputMode="numeric"
        autocomplete="off"
        hint={`At most the ${pieces(lot.units)} there are.`}
        answer={answer}
      />
      <ChoiceField
        name="cause"
        label="What became of them"
        blank="Choose"
        choices={Object.entries(causeWords).map(([value, label]) => ({ value, label }))}
        answer={answer}
      />
      <Field name="lossNote" label="Note" hint="May stay empty." maxLength={200} answer={answer} />
      <button type="submit">Take them off</button>
    </Form>
  );
}

/** What was really there; the ledger is brought to it by a move of the difference. */
export function CountForm({ lot, answer }: LotFormProps) {
  return (
    <Form action={`/shelf/${lot.id}/count`} class="sheet">
      <h2>Count again</h2>
      <FormMistake answer={answer} />
      <input type="hidden" name="expected" value={String(lot.units)} />
      <Field
        name="counted"
        label="Pieces counted"
        inputMode="numeric"
        autocomplete="off"
        hint={`The ledger says ${pieces(lot.units)}; the difference is written down as a move.`}
        answer={answer}
      />
      <Field name="countNote" label="Note" hint="May stay empty." maxLength={200} answer={answer} />
      <button type="submit">Write the count down</button>
    </Form>
  );
}

/** Where it stands, so that packing lists can be walked along the shelf. */
export function PlaceForm({ lot, answer }: LotFormProps) {
  return (
    <Form action={`/shelf/${lot.id}/place`} class="sheet">
      <h2>Where it stands</h2>
      <FormMistake answer={answer} />
      <PlaceField answer={answer} places={[]} />
      <button type="submit">Write the place down</button>
    </Form>
  );
}
