import { Field, FormMistake, Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedList } from "../components/formAnswer.ts";
import { type BlendLook, Swatch } from "../components/Swatch.tsx";
import { counted, pieces } from "../format/quantities.ts";

interface PlacedLot {
  readonly id: number;
  readonly code: string;
  readonly product: string;
  readonly look: BlendLook;
  readonly units: number;
  readonly shelfPlace: string;
}

interface ShelfPlacesProps {
  /** Along the shelf; what stands nowhere yet last. */
  readonly lots: readonly PlacedLot[];
  readonly answer: FormAnswer;
}

/** Where the ready lots stand. Several are ticked and put at one place. */
export function ShelfPlacesPage({ lots, answer }: ShelfPlacesProps) {
  return (
    <>
      <p class="trail">
        <a href="/shelf">Shelf</a>
      </p>
      <h1>{answerOf(lots)}</h1>
      {lots.length > 0 && (
        <Form action="/shelf/places" class="narrow">
          <FormMistake answer={answer} />
          <div class="put-at">
            <PlaceField answer={answer} places={placesOf(lots)} />
            <button type="submit">Put what is ticked there</button>
          </div>
          <fieldset>
            <legend>Which lots</legend>
            <Mistake name="lot" answer={answer} />
            <ul class="plain-list">
              {lots.map((lot) => (
                <LotTick
                  key={lot.id}
                  lot={lot}
                  isTicked={typedList(answer, "lot").includes(String(lot.id))}
                />
              ))}
            </ul>
          </fieldset>
        </Form>
      )}
    </>
  );
}

/** A place, with those in use to choose from. */
export function PlaceField({
  answer,
  places,
}: {
  readonly answer: FormAnswer;
  readonly places: readonly string[];
}) {
  return (
    <>
      <Field
        name="shelfPlace"
        label="Place on the shelf"
        hint="Your own short word for it, such as A3. Blank: it stands nowhere any more."
        answer={answer}
        maxLength={12}
        autocomplete="off"
        list="shelf-places"
      />
      <datalist id="shelf-places">
        {places.map((place) => (
          <option key={place} value={place} />
        ))}
      </datalist>
    </>
  );
}

function LotTick({ lot, isTicked }: { readonly lot: PlacedLot; readonly isTicked: boolean }) {
  return (
    <li class="field tick">
      <label>
        <input type="checkbox" name="lot" value={lot.id} checked={isTicked} />
        <span class="lot">{lot.code}</span>
        <span>
          <Swatch look={lot.look} />
          {lot.product}, {pieces(lot.units)}
        </span>
        <strong class="shelf-place">{lot.shelfPlace || "no place yet"}</strong>
      </label>
    </li>
  );
}

function placesOf(lots: readonly PlacedLot[]): readonly string[] {
  return [...new Set(lots.map((lot) => lot.shelfPlace))].filter((place) => place !== "");
}

function answerOf(lots: readonly PlacedLot[]): string {
  const nowhere = lots.filter((lot) => lot.shelfPlace === "").length;
  if (lots.length === 0) return "No ready lot stands on the shelf.";
  if (nowhere === 0) return "Every ready lot has its place on the shelf.";
  return `${counted(nowhere, "ready lot")} ${nowhere === 1 ? "has" : "have"} no place on the shelf yet.`;
}
