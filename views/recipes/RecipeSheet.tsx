import type { AmountUnit } from "../../server/recipes/amounts.ts";
import type { Caution } from "../../server/recipes/cautions.ts";
import type { Phase } from "../../server/recipes/phases.ts";
import { StateMark } from "../components/StateMark.tsx";
import { gramWords } from "../format/quantities.ts";
import { ContentCautions } from "./ContentCautions.tsx";
import { DryPieces, type ShownPiece } from "./DryPieces.tsx";
import { amountWords, ounceWords, phaseWords } from "./recipeWords.ts";
import { ScentVerdicts, type ShownScent } from "./ScentVerdicts.tsx";

interface SheetPart {
  readonly supplyId: number;
  readonly name: string;
  readonly phase: Phase;
  readonly milligramsPerKilogram: number;
  /** As it was written, in thousandths of the unit. */
  readonly thousandths: number;
  readonly unit: AmountUnit;
  /** To weigh for this bowl; 0: too little for the scale. */
  readonly milligrams: number;
}

export interface RecipeSheetProps {
  readonly version: number;
  readonly category: string;
  /** Whether ounces stand beside the grams. */
  readonly inOunces: boolean;
  readonly wholeMilligrams: number;
  readonly dryMilligrams: number;
  /** In mixing order. */
  readonly parts: readonly SheetPart[];
  readonly pieces: readonly ShownPiece[];
  readonly scents: readonly ShownScent[];
  readonly limitsShared: boolean;
  readonly cautions: readonly Caution[];
}

/** What to weigh for one bowl, step by step, and what to take care of. */
export function RecipeSheet(props: RecipeSheetProps) {
  const { parts, wholeMilligrams, inOunces } = props;
  const steps = [...new Set(parts.map(({ phase }) => phase))];
  return (
    <>
      <table class="weigh-out">
        <caption>
          {gramWords(wholeMilligrams)} of mix
          {inOunces && `, ${ounceWords(wholeMilligrams)}`}
        </caption>
        {steps.map((phase) => (
          <tbody key={phase}>
            <tr>
              <th scope="rowgroup" colSpan={3}>
                {phaseWords[phase]}
              </th>
            </tr>
            {parts
              .filter((part) => part.phase === phase)
              .map((part) => (
                <PartRow key={part.supplyId} part={part} inOunces={inOunces} />
              ))}
          </tbody>
        ))}
      </table>
      <ScentVerdicts {...props} />
      <DryPieces {...props} />
      <ContentCautions cautions={props.cautions} />
    </>
  );
}

function PartRow({ part, inOunces }: { readonly part: SheetPart; readonly inOunces: boolean }) {
  return (
    <tr>
      <td class="tick-box" aria-hidden="true">
        ☐
      </td>
      <th scope="row">
        {part.name}
        <span class="aside said">
          {gramWords(part.milligramsPerKilogram)} a kilogram
          {part.unit !== "g" && `, written as ${amountWords(part.thousandths, part.unit)}`}
        </span>
      </th>
      <td class="number weight">
        {part.milligrams === 0 ? <StateMark words="weigh finer" urgent /> : gramWords(part.milligrams)}
        {inOunces && part.milligrams > 0 && <span class="aside said">{ounceWords(part.milligrams)}</span>}
      </td>
    </tr>
  );
}
