import type { OrderBoxes } from "../../server/packing/boxQueries.ts";
import type { FilledBox } from "../../server/packing/boxUp.ts";
import { parcelWeightWords } from "../delivery/parcelWords.ts";
import { pieces, spelled, wholeWords } from "../format/quantities.ts";
import { listed, sentence } from "../format/sentence.ts";

interface SuggestedBoxesProps {
  readonly boxes: OrderBoxes;
  /** "Packed so far", "The whole order": what goes into them. */
  readonly what: string;
}

/** Which boxes some pieces go into, and what each weighs. */
export function SuggestedBoxes({ boxes: { boxes, unboxed, isBest, ...how }, what }: SuggestedBoxesProps) {
  if (boxes.length + unboxed.length === 0) return null;
  return (
    <section class="boxes" aria-label="Boxes">
      <h2>Boxes</h2>
      <p>
        {boxes.length === 0
          ? `Nobody has said which box ${what.toLowerCase()} goes into.`
          : sentence(`${what} goes into ${spelled(boxes.length, "box", "boxes").toLowerCase()}`)}
        {boxes.length > 0 && unboxed.length > 0 && ` ${listed(unboxed.map(contentWords))}: no box is known.`}
        {!isBest && " There were too many ways to try them all: perhaps fewer boxes do."}
      </p>
      {boxes.length > 0 && (
        <>
          <ul class="plain-list narrow">
            {boxes.map((box) => (
              <Box key={box.number} box={box} inOunces={how.inOunces} />
            ))}
          </ul>
          <p class="aside">
            Shapes share a box by the part of it they fill. Weights are the empty box and the{" "}
            {how.isWeighedDry ? "dry pieces" : "pieces, undried where there is no recipe"}; bags, ties, wraps
            and filling are not counted.
          </p>
        </>
      )}
    </section>
  );
}

function Box({ box, inOunces }: { readonly box: FilledBox; readonly inOunces: boolean }) {
  return (
    <li>
      <span class="row">
        <strong>
          {box.number}. {box.name}
        </strong>
        <span>
          {pieces(box.units)}, {parcelWeightWords(Math.ceil(box.milligrams / 1000), inOunces)}
        </span>
      </span>
      <span class="aside">{box.content.map(contentWords).join(", ")}</span>
    </li>
  );
}

function contentWords({ units, product, lotCode }: FilledBox["content"][number]): string {
  return `${wholeWords(units)} ${product}${lotCode === null ? "" : ` (lot ${lotCode})`}`;
}
