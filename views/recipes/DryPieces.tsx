import { gramWords } from "../format/quantities.ts";
import { atMostOunceWords } from "./recipeWords.ts";

export interface ShownPiece {
  readonly id: number;
  readonly name: string;
  /** Mix used for one piece, handling loss included. */
  readonly mixMilligrams: number;
  readonly dryMilligrams: number;
}

/** What is left of the mix, and of a piece of each shape, when alcohol and water have gone. */
export function DryPieces({
  wholeMilligrams,
  dryMilligrams,
  pieces,
}: {
  readonly wholeMilligrams: number;
  readonly dryMilligrams: number;
  readonly pieces: readonly ShownPiece[];
}) {
  const left = toTenths(dryMilligrams);
  return (
    <section class="dry-pieces" aria-label="Dry weight">
      <h2>Dry weight</h2>
      <p>
        {dryMilligrams === wholeMilligrams
          ? "Nothing of it evaporates."
          : `${gramWords(wholeMilligrams - left)} of it evaporate, ${gramWords(left)} are left.`}
      </p>
      {pieces.length > 0 && (
        <>
          <ul class="plain-list">
            {pieces.map((piece) => (
              <li key={piece.id} class="row">
                <span class="room-facts">
                  {piece.name}, {gramWords(piece.mixMilligrams)} of mix
                </span>
                <strong>
                  at most {gramWords(toTenths(piece.dryMilligrams))}, {atMostOunceWords(piece.dryMilligrams)}
                </strong>
              </li>
            ))}
          </ul>
          <p class="hint">
            The net weight on a label must not exceed it. What sticks to bowl and hands makes pieces lighter
            still: weigh a few dry ones.
          </p>
        </>
      )}
    </section>
  );
}

/** Down to a whole tenth of a gram, in milligrams. */
function toTenths(milligrams: number): number {
  return Math.floor(milligrams / 100) * 100;
}
