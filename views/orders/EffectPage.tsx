import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { Unbroken } from "../components/Unbroken.tsx";
import { pieces } from "../format/quantities.ts";
import { capitalised } from "../format/sentence.ts";
import { effectHeadline, isWorse, movedWords, ownWords, type PlanEffect, turnsOf } from "./planEffect.ts";

interface EffectOf {
  readonly orderId: number;
  readonly reference: string;
  readonly effect: PlanEffect;
  /** By which the form says that this was shown. */
  readonly seal: string;
  /** Whether something else was shown when the form was sent. */
  readonly outdated: boolean;
}

/** The field in which the form carries it back. */
export const EFFECT_SEAL = "effect_shown";

/** What a change would do to the plan, before it is done. The typed form goes along. */
export function ChangeEffectPage({
  orderId,
  reference,
  effect,
  seal,
  outdated,
  answer,
}: EffectOf & { readonly answer: FormAnswer }) {
  return (
    <>
      <Trail orderId={orderId} reference={reference} />
      <h1>
        <Unbroken words={`If ${reference} changes so: ${lowered(effectHeadline(effect))}`} />
      </h1>
      {outdated && <Outdated />}
      <Effect effect={effect} reference={reference} />
      <Form action={`/orders/${orderId}/edit`}>
        <input type="hidden" name={EFFECT_SEAL} value={seal} />
        {Object.entries(answer.typed)
          .filter(([name]) => !OWN_FIELDS.includes(name))
          .flatMap(([name, typed]) =>
            [typed]
              .flat()
              .map((one, place) => <input key={`${name}-${place}`} type="hidden" name={name} value={one} />),
          )}
        <p class="actions">
          <button type="submit" name="save" value="change">
            Save the change
          </button>
          <button type="submit" name="save" value="as-it-was" class="quiet">
            Back to the form
          </button>
        </p>
      </Form>
    </>
  );
}

/** Fields that every form brings by itself. */
const OWN_FIELDS = ["_csrf", "form_token", "save", EFFECT_SEAL];

/** What cancelling would do, before it is done. */
export function CancelPage({
  orderId,
  reference,
  effect,
  seal,
  outdated,
  packed,
}: EffectOf & { readonly packed: number }) {
  return (
    <>
      <Trail orderId={orderId} reference={reference} />
      <h1>
        <Unbroken words={`If ${reference} is cancelled: ${lowered(effectHeadline(effect))}`} />
      </h1>
      {outdated && <Outdated />}
      <p>
        {packed > 0
          ? `The ${pieces(packed)} in its box go back to the shelf. `
          : "Nothing is packed for it yet. "}
        A cancelled order stays in the list and cannot be taken up again.
      </p>
      <Effect effect={effect} reference={reference} />
      <Form action={`/orders/${orderId}/cancellation`}>
        <input type="hidden" name={EFFECT_SEAL} value={seal} />
        <p class="actions">
          <button type="submit">
            <Unbroken words={`Yes, cancel ${reference}`} />
          </button>
          <a class="button quiet" href={`/orders/${orderId}`}>
            Keep it
          </a>
        </p>
      </Form>
    </>
  );
}

function Outdated() {
  return (
    <p class="notice" role="alert">
      Not done yet: something has changed since you looked. This is what it does now.
    </p>
  );
}

function Effect({ effect, reference }: Pick<EffectOf, "effect" | "reference">) {
  const { moved, freed, own } = effect;
  const turns = turnsOf(moved);
  const groups = [
    { title: capitalised(turns.worse), rows: moved.filter(isWorse) },
    { title: capitalised(turns.better), rows: moved.filter((one) => !isWorse(one)) },
  ].filter(({ rows }) => rows.length > 0);
  return (
    <>
      {own && (
        <p>
          {reference} itself is then {ownWords(own)}.
        </p>
      )}
      {groups.map(({ title, rows }) => (
        <section key={title}>
          <h2>{title}</h2>
          <ul class="plain-list">
            {rows.map((one) => (
              <li key={one.order} class="row">
                <span>
                  {one.orderId === null ? one.order : <a href={`/orders/${one.orderId}`}>{one.order}</a>}{" "}
                  {one.customer}
                </span>
                <span>{movedWords(one)}</span>
              </li>
            ))}
          </ul>
        </section>
      ))}
      {freed.length > 0 && (
        <section>
          <h2>To the shelf</h2>
          <p class="aside">Work that is begun stays; nobody else waits for these pieces.</p>
          <ul class="plain-list">
            {freed.map(({ product, units }) => (
              <li key={product}>
                {pieces(units)} of {product}
              </li>
            ))}
          </ul>
        </section>
      )}
      <p class="aside">
        Reckoned by planning anew with and without it. The plan that is followed stays until you plan again.
      </p>
    </>
  );
}

function Trail({ orderId, reference }: Pick<EffectOf, "orderId" | "reference">) {
  return (
    <p class="trail">
      <a href={`/orders/${orderId}`}>{reference}</a>
    </p>
  );
}

/** As the second half of a sentence. */
function lowered(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
