import type { Batch } from "../../server/batches/queries.ts";
import type { Weighed, WeighedPart } from "../../server/batches/weighOut.ts";
import { Form } from "../components/Form.tsx";
import { StateMark } from "../components/StateMark.tsx";
import { gramWords } from "../format/quantities.ts";
import { phaseWords } from "../recipes/recipeWords.ts";

interface WeighOutProps {
  readonly batch: Batch;
  readonly weighed: Weighed;
}

/** What to weigh for each bowl, step by step, from which lots, with a box to tick for every bowl. */
export function WeighOutTable({ batch, weighed }: WeighOutProps) {
  const steps = [...new Set(weighed.parts.map(({ phase }) => phase))];
  if (steps.length === 0)
    return <p class="notice">This blend has no recipe, so the sheet says no weights.</p>;
  return (
    <>
      <table class="weigh-out batch-weights">
        <caption>{`Each bowl: ${gramWords(weighed.bowlMilligrams)} of mix`}</caption>
        <thead>
          <tr>
            <th scope="col">Ingredient, lot</th>
            <th scope="col" class="number">
              A bowl
            </th>
            <th scope="col">Weighed, by bowl</th>
          </tr>
        </thead>
        {steps.map((phase) => (
          <tbody key={phase}>
            <tr>
              <th scope="rowgroup" colSpan={3}>
                {phaseWords[phase]}
              </th>
            </tr>
            {weighed.parts
              .filter((part) => part.phase === phase)
              .map((part) => (
                <PartRow key={part.place} part={part} batch={batch} />
              ))}
          </tbody>
        ))}
      </table>
      {batch.startedAt !== null && (
        <p class="no-paper">
          <a href={`/supplies/runs/${batch.id}`}>Weighed from other lots?</a>
        </p>
      )}
    </>
  );
}

function PartRow({ part, batch }: { readonly part: WeighedPart; readonly batch: Batch }) {
  const bowls = Array.from({ length: batch.bowls }, (_, at) => at + 1);
  return (
    <tr>
      <th scope="row">
        {part.name}
        <span class="aside said">
          {part.lots.length > 0 ? `lot ${part.lots.join(", ")}` : <span class="paper-only">lot</span>}
        </span>
      </th>
      <td class="number weight">
        {part.milligrams === 0 ? <StateMark words="weigh finer" urgent /> : gramWords(part.milligrams)}
      </td>
      <td class="ticks">
        {bowls.map((bowl) => (
          <Tick key={bowl} batch={batch} part={part} bowl={bowl} />
        ))}
      </td>
    </tr>
  );
}

/** A box of one bowl: a button on the phone once the run is begun, a box on paper. */
function Tick({
  batch: { id, ticks, startedAt },
  part: { place, name },
  bowl,
}: {
  readonly batch: Batch;
  readonly part: WeighedPart;
  readonly bowl: number;
}) {
  const tick = ticks.find((one) => one.bowl === bowl && one.place === place);
  const words = `${tick ? "☑" : "☐"} ${bowl}`;
  if (startedAt === null) return <span class="tick-paper">{words}</span>;
  const action = `/bench/runs/${id}/sheet/ticks`;
  const swap = { "hx-target": "#batch-now", "hx-select": "#batch-now", "hx-swap": "outerHTML" };
  return (
    <>
      <Form action={action} class="tap" {...{ "hx-post": action, ...swap }}>
        <input type="hidden" name="bowl" value={bowl} />
        <input type="hidden" name="place" value={place} />
        <input type="hidden" name="ticked" value={tick ? "no" : "yes"} />
        <button
          type="submit"
          id={`tick-${bowl}-${place}`}
          class={tick ? "tick-button" : "tick-button quiet"}
          aria-pressed={tick ? "true" : "false"}
          aria-label={`${name} weighed for bowl ${bowl}`}
        >
          {words}
        </button>
      </Form>
      <span class="tick-paper paper-only">
        {words}
        {tick?.by && ` ${tick.by}`}
      </span>
    </>
  );
}
