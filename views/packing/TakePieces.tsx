import type { ComponentChildren } from "preact";
import { Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { freshForm, typedText } from "../components/formAnswer.ts";
import { momentWords } from "../format/dates.ts";
import { wholeWords } from "../format/quantities.ts";
import type { LinePartProps } from "./LineSheet.tsx";

type WhichLine = Pick<LinePartProps, "line" | "place">;

/** The lots to take from next, and one tap that packs exactly what is shown. */
export function PackSuggestion({ line, place }: WhichLine) {
  const units = line.suggestion.reduce((sum, lot) => sum + lot.take, 0);
  const words = `Pack ${units === 1 ? "this 1" : `these ${wholeWords(units)}`}`;
  return (
    <PackForm line={line} place={place} class="suggestion">
      <ol class="takes">
        {line.suggestion.map((lot) => (
          <li key={lot.id}>
            <strong>{wholeWords(lot.take)}</strong> of lot <span class="lot">{lot.code}</span>
            {lot.shelfPlace !== "" && (
              <>
                {" "}
                at <strong class="shelf-place">{lot.shelfPlace}</strong>
              </>
            )}
            <input type="hidden" name="lot" value={lot.id} />
            <input type="hidden" name="units" value={lot.take} />
          </li>
        ))}
      </ol>
      <button type="submit" id={`pack-${line.lineId}`} aria-label={`${words} of ${line.product}`}>
        {words}
      </button>
    </PackForm>
  );
}

/** So many of a lot the packer chooses. */
export function TakeByHand({ line, place, answer }: LinePartProps) {
  const tried = answer?.lotId === null ? answer.answer : null;
  const typed = tried ?? freshForm();
  const unitsId = `units-${line.lineId}`;
  const lotId = `lot-${line.lineId}`;
  return (
    <details class="by-hand" id={`by-hand-${line.lineId}`} open={tried !== null} hx-morph-skip>
      <summary>Take from a lot of your choice</summary>
      <PackForm line={line} place={place} class="inline">
        <label for={unitsId}>Take</label>
        <input
          id={unitsId}
          name="units"
          inputMode="numeric"
          size={5}
          autocomplete="off"
          value={typedText(typed, "units")}
          aria-invalid={tried ? "true" : undefined}
        />
        <label for={lotId}>of lot</label>
        <select id={lotId} name="lot">
          {line.shelf.map((lot) => (
            <option key={lot.id} value={lot.id} selected={String(lot.id) === typedText(typed, "lot")}>
              {lot.code}: {wholeWords(lot.units)}
              {lot.readyAt && `, ready ${momentWords(lot.readyAt, place.timeZone)}`}
            </option>
          ))}
        </select>
        <button type="submit" class="quiet" id={`take-${line.lineId}`}>
          Take
        </button>
      </PackForm>
      <Mistake name="units.0" answer={typed} />
      <Mistake name="lot.0" answer={typed} />
    </details>
  );
}

function PackForm({
  line,
  place,
  children,
  class: look,
}: WhichLine & { readonly class: string; readonly children: ComponentChildren }) {
  const address = `/packing/${place.orderId}/lines/${line.lineId}/pieces`;
  return (
    <Form action={`${address}#line-${line.lineId}`} hx-post={address} hx-target="#main" class={look}>
      <input type="hidden" name="last_move" value={place.lastMoveSeen} />
      {children}
    </Form>
  );
}
