import type { KeptPieces, WantingLine } from "../../server/holds/queries.ts";
import type { LotFacts } from "../../server/shelf/queries.ts";
import { ChoiceField, Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { shortDayWords } from "../format/dates.ts";
import { pieces, wholeWords } from "../format/quantities.ts";

interface KeepProps {
  readonly lot: LotFacts;
  readonly kept: readonly KeptPieces[];
  readonly wanting: readonly WantingLine[];
  readonly answer: FormAnswer;
}

/** For which orders pieces of a lot are kept, keeping more, and letting them go. */
export function KeepPage({ lot, kept, wanting, answer }: KeepProps) {
  return (
    <>
      <p class="trail">
        <a href="/shelf">Shelf</a>
        {" · "}
        <a href={`/shelf/${lot.id}`}>{lot.code}</a>
      </p>
      <h1>{answerOf(lot, kept)}</h1>
      <p>
        Pieces that are kept are suggested to their order first and can be packed for no other. Everything
        else goes first ready, first out.
      </p>
      <KeptList lotId={lot.id} kept={kept} />
      {wanting.length === 0 ? (
        <p>No order that is to be packed wants more of {lot.product}.</p>
      ) : (
        <Form action={`/shelf/${lot.id}/kept`} class="narrow">
          <FormMistake answer={answer} />
          <ChoiceField
            name="orderLineId"
            label="Keep for"
            blank="Choose"
            choices={wanting.map(({ orderLineId, reference, shipBy, ordered, packed }) => ({
              value: String(orderLineId),
              label: `${reference}, leaves by ${shortDayWords(shipBy)}, wants ${wholeWords(ordered - packed)}`,
            }))}
            answer={answer}
          />
          <Field
            name="units"
            label="Pieces"
            inputMode="numeric"
            autocomplete="off"
            hint="Takes the place of what is kept for it of this lot already."
            answer={answer}
          />
          <button type="submit">Keep them</button>
        </Form>
      )}
    </>
  );
}

function answerOf({ code, units }: LotFacts, kept: readonly KeptPieces[]): string {
  const all = kept.reduce((sum, part) => sum + part.units, 0);
  if (all === 0) return `Nothing of lot ${code} is kept for an order.`;
  return `${wholeWords(all)} of the ${pieces(units)} of lot ${code} ${all === 1 ? "is" : "are"} kept.`;
}

function KeptList({ lotId, kept }: { readonly lotId: number; readonly kept: readonly KeptPieces[] }) {
  if (kept.length === 0) return null;
  return (
    <ul class="plain-list narrow">
      {kept.map(({ orderLineId, orderId, reference, shipBy, units }) => (
        <li key={orderLineId} class="row">
          <span>
            <strong>{pieces(units)}</strong> for{" "}
            <a href={`/packing/${orderId}`}>
              <Unbroken words={reference} />
            </a>
            , leaves by {shortDayWords(shipBy)}
          </span>
          <Form action={`/shelf/${lotId}/kept/${orderLineId}/undo`}>
            <button type="submit" class="quiet" aria-label={`Let go what is kept for ${reference}`}>
              Let go
            </button>
          </Form>
        </li>
      ))}
    </ul>
  );
}
