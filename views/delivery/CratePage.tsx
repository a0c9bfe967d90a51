import type { CrateToLoad } from "../../server/delivery/crateQueries.ts";
import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { StateMark } from "../components/StateMark.tsx";
import { Swatch } from "../components/Swatch.tsx";
import { Unbroken } from "../components/Unbroken.tsx";
import { momentWords } from "../format/dates.ts";
import { pieces, wholeWords } from "../format/quantities.ts";

interface CratePageProps {
  readonly crate: CrateToLoad;
  readonly timeZone: string;
  readonly answer: FormAnswer;
}

/** What goes into the car for a market, lot by lot, with a tick for each. */
export function CratePage({ crate, timeZone, answer }: CratePageProps) {
  const { orderId, reference, customer, state, parts } = crate;
  return (
    <>
      <p class="trail">
        <a href="/delivery">Delivery</a>
      </p>
      <h1>
        <Unbroken words={answerOf(crate)} />
      </h1>
      <p>
        For <strong>{customer}</strong>
      </p>
      <FormMistake answer={answer} />
      <ul class="plain-list">
        {parts.map((part) => (
          <CratePart key={`${part.line} ${part.lot}`} {...{ part, orderId, timeZone }} />
        ))}
      </ul>
      <p class="actions">
        {state === "packed" && (
          <a class="button" href={`/delivery/orders/${orderId}`}>
            <Unbroken words={`Send off ${reference}`} />
          </a>
        )}
        <a class="button quiet" href={`/markets/of-order/${orderId}`}>
          Home again: count what came back
        </a>
      </p>
    </>
  );
}

type Part = CrateToLoad["parts"][number];

function isLoaded({ units, loadedUnits }: Part): boolean {
  return loadedUnits === units;
}

function answerOf({ reference, parts }: CrateToLoad): string {
  const sum = (some: readonly Part[]) => some.reduce((total, { units }) => total + units, 0);
  const all = sum(parts);
  if (all === 0) return `Nothing is packed for ${reference} yet.`;
  const loaded = sum(parts.filter(isLoaded));
  return loaded === all
    ? `All of ${reference} is loaded: ${pieces(all)}.`
    : `${wholeWords(loaded)} of ${pieces(all)} of ${reference} are loaded.`;
}

interface CratePartProps {
  readonly part: Part;
  readonly orderId: number;
  readonly timeZone: string;
}

function CratePart({ part, orderId, timeZone }: CratePartProps) {
  const { line, lot, lotCode, product, look, units, loadedUnits, loadedBy, loadedAt } = part;
  const loaded = isLoaded(part);
  const what = `${pieces(units)} ${product}, lot ${lotCode}`;
  return (
    <li class="row">
      <span>
        <Swatch look={look} />
        {what}
        {loadedUnits !== null && !loaded && (
          <StateMark words={`${wholeWords(loadedUnits)} were loaded, look again`} urgent />
        )}
        {loaded && loadedAt && (
          <span class="under">
            <StateMark words="loaded" /> {loadedBy}, {momentWords(loadedAt, timeZone)}
          </span>
        )}
      </span>
      <Form action={`/delivery/crates/${orderId}/${loaded ? "unloading" : "loading"}`} class="inline">
        <input type="hidden" name="line" value={String(line)} />
        <input type="hidden" name="lot" value={String(lot)} />
        <input type="hidden" name="units" value={String(units)} />
        <button
          type="submit"
          class={loaded ? "quiet" : undefined}
          aria-label={`${loaded ? "Not loaded" : "Loaded"}: ${what}`}
        >
          {loaded ? "Not loaded" : "Loaded"}
        </button>
      </Form>
    </li>
  );
}
