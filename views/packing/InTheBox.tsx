import { Mistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import { freshForm, typedText } from "../components/formAnswer.ts";
import { wholeWords } from "../format/quantities.ts";
import type { LinePartProps } from "./LineSheet.tsx";

/** What stands in the box, lot by lot, each with the way back to the shelf. */
export function InTheBox({ line, place, answer }: LinePartProps) {
  return (
    <ul class="plain-list in-the-box" aria-label={`${line.product} in the box`}>
      {line.inTheBox.map((content) => (
        <li key={content.lotId} class="row">
          <span>
            <strong>{wholeWords(content.units)}</strong> of lot <span class="lot">{content.lotCode}</span> in
            the box
          </span>
          {place.changeable && (
            <TakeOut
              content={content}
              line={line}
              place={place}
              answer={answer?.lotId === content.lotId ? answer : null}
            />
          )}
        </li>
      ))}
    </ul>
  );
}

function TakeOut({
  content: { lotId, lotCode, units },
  line,
  place,
  answer,
}: LinePartProps & {
  readonly content: { readonly lotId: number; readonly lotCode: string; readonly units: number };
}) {
  const address = `/packing/${place.orderId}/lines/${line.lineId}/lots/${lotId}/unpacking`;
  const typed = answer?.answer ?? freshForm({ units: String(units) });
  return (
    <Form
      action={`${address}#line-${line.lineId}`}
      hx-post={address}
      hx-target="#main"
      id={`take-out-${line.lineId}-${lotId}`}
      class="inline"
      {...(answer ? { "hx-morph-skip": "" } : {})}
    >
      <input
        id={`out-${line.lineId}-${lotId}`}
        name="units"
        inputMode="numeric"
        size={4}
        autocomplete="off"
        aria-label={`Pieces of lot ${lotCode} to take out`}
        aria-invalid={answer ? "true" : undefined}
        value={typedText(typed, "units")}
      />
      <button type="submit" class="quiet" id={`unpack-${line.lineId}-${lotId}`}>
        Take out
      </button>
      <Mistake name="units" answer={typed} />
    </Form>
  );
}
