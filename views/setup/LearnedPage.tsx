import type { LearnedFigures, LearnedLosses, LearnedPressing } from "../../server/learning/queries.ts";
import { Form } from "../components/Form.tsx";
import { type FormAnswer, typedText } from "../components/formAnswer.ts";
import { Swatch } from "../components/Swatch.tsx";
import { plainShare, shareWords } from "../format/money.ts";
import { counted, plainNumber } from "../format/quantities.ts";
import { capitalised, sentence } from "../format/sentence.ts";
import {
  causeWords,
  learnedHeadline,
  lossWords,
  pressingWords,
  suggestedLoss,
  suggestedSeconds,
} from "./learnedWords.ts";
import { SetupTrail } from "./SetupTrail.tsx";

/** Where on the page a figure stands: also the form's own name. */
export type LearnedPlace = `losses-${number}` | `pressing-${number}`;

interface LearnedPageProps {
  readonly figures: LearnedFigures;
  /** The form that was sent and could not be taken, as it was typed. */
  readonly mistaken: { readonly id: LearnedPlace; readonly answer: FormAnswer } | null;
}

/** What batches taught, beside what the plan counts on; it is taken over here, or not at all. */
export function LearnedPage({ figures, mistaken }: LearnedPageProps) {
  const taught = figures.losses.filter(({ learned }) => learned !== null);
  const untaught = figures.losses.filter(({ learned }) => learned === null);
  const answerOf = (id: LearnedPlace) => (mistaken?.id === id ? mistaken.answer : null);
  return (
    <>
      <SetupTrail />
      <h1>{capitalised(learnedHeadline(figures))}</h1>
      <p>
        Nothing here changes by itself: a figure counts from the next plan on, once you take it over. Newer
        batches count more; one counts half after ten more.
      </p>
      <section aria-labelledby="losses">
        <h2 id="losses">What is lost</h2>
        <p class="hint">
          From pressing to the shelf, samples among it. Plans make so many pieces more that the good ones are
          enough.
        </p>
        <LossList losses={taught} answerOf={answerOf} />
        {untaught.length > 0 && (
          <details open={untaught.some(({ productId }) => answerOf(`losses-${productId}`) !== null)}>
            <summary>{counted(untaught.length, "product")} without a batch that is ready</summary>
            <LossList losses={untaught} answerOf={answerOf} />
          </details>
        )}
      </section>
      <section aria-labelledby="pressing">
        <h2 id="pressing">How long pressing takes</h2>
        <p class="hint">
          Hand time while a run's bowls were pressed, by the taps on the Bench; where they are missing, from
          the start of a run to its last recorded pressing, less the mixing. The plan counts one figure a
          shape.{" "}
          {figures.leftOut > 0 &&
            `${counted(figures.leftOut, "run")} left out: two at once, or a start or an end written down later.`}
        </p>
        <ul class="plain-list learned-list">
          {figures.pressing.map((shape) => (
            <PressingRow key={shape.shapeId} shape={shape} answer={answerOf(`pressing-${shape.shapeId}`)} />
          ))}
        </ul>
      </section>
    </>
  );
}

function LossList({
  losses,
  answerOf,
}: {
  readonly losses: readonly LearnedLosses[];
  readonly answerOf: (id: LearnedPlace) => FormAnswer | null;
}) {
  return (
    <ul class="plain-list learned-list">
      {losses.map((product) => (
        <LossRow key={product.productId} product={product} answer={answerOf(`losses-${product.productId}`)} />
      ))}
    </ul>
  );
}

function LossRow({
  product,
  answer,
}: {
  readonly product: LearnedLosses;
  readonly answer: FormAnswer | null;
}) {
  const causes = causeWords(product);
  const suggested = suggestedLoss(product);
  return (
    <li id={`losses-${product.productId}`} class="learned">
      <div>
        <strong>
          <Swatch look={product.look} />
          {product.name}
        </strong>
        <p>{sentence(capitalised(lossWords(product)))}</p>
        <p class="aside">
          The plan expects {shareWords(product.lossBasisPoints)}.{causes !== "" && ` So far ${causes}.`}
        </p>
      </div>
      <FigureForm
        place={`losses-${product.productId}`}
        field={{ name: "loss", label: "Plan with, per cent", of: product.name }}
        shown={plainShare(suggested ?? product.lossBasisPoints)}
        answer={answer}
      />
    </li>
  );
}

function PressingRow({
  shape,
  answer,
}: {
  readonly shape: LearnedPressing;
  readonly answer: FormAnswer | null;
}) {
  const suggested = suggestedSeconds(shape);
  return (
    <li id={`pressing-${shape.shapeId}`} class="learned">
      <div>
        <strong>{shape.name}</strong>
        <p>{sentence(capitalised(pressingWords(shape.learned)))}</p>
        <p class="aside">The plan counts {plainNumber(shape.formSeconds)} s.</p>
        {shape.blends.length > 1 && (
          <details>
            <summary>Blend by blend</summary>
            <ul class="plain-list">
              {shape.blends.map(({ name, learned }) => (
                <li key={name}>
                  {name}: {pressingWords(learned)}
                </li>
              ))}
            </ul>
          </details>
        )}
      </div>
      <FigureForm
        place={`pressing-${shape.shapeId}`}
        field={{ name: "formSeconds", label: "Plan with, seconds", of: shape.name }}
        shown={plainNumber(suggested ?? shape.formSeconds)}
        answer={answer}
      />
    </li>
  );
}

/** What stands in the field is the learned figure where it says enough and differs, else the plan's own. */
function FigureForm({
  place,
  field: { name, label, of },
  shown,
  answer,
}: {
  readonly place: LearnedPlace;
  readonly field: { readonly name: string; readonly label: string; readonly of: string };
  readonly shown: string;
  readonly answer: FormAnswer | null;
}) {
  const id = `${place}-figure`;
  const mistake = answer?.mistakes[name];
  return (
    <Form action={`/setup/learned/${place.replace("-", "/")}`} class="figure-form">
      <label for={id}>{label}</label>
      <input
        id={id}
        name={name}
        value={answer === null ? shown : typedText(answer, name)}
        inputMode="decimal"
        autocomplete="off"
        maxLength={12}
        aria-invalid={mistake === undefined ? undefined : "true"}
        aria-describedby={mistake === undefined ? undefined : `${id}-mistake`}
      />
      <button type="submit" class="quiet" aria-label={`Take it over for ${of}`}>
        Take it over
      </button>
      {mistake !== undefined && (
        <p class="mistake" id={`${id}-mistake`} role="alert">
          {mistake}
        </p>
      )}
    </Form>
  );
}
