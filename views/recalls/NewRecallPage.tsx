import type { RecalledThing } from "../../server/recalls/beginRecall.ts";
import type { readConcerned } from "../../server/recalls/queries.ts";
import { Field, FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { pieces, spelled } from "../format/quantities.ts";
import { capitalised } from "../format/sentence.ts";
import { LocalRules } from "./LocalRules.tsx";

interface NewRecallProps {
  readonly thing: RecalledThing;
  readonly concerned: NonNullable<Awaited<ReturnType<typeof readConcerned>>>;
  readonly answer: FormAnswer;
}

/** What a recall would stop and whom it would concern, before it is begun. */
export function NewRecallPage({ thing, concerned, answer }: NewRecallProps) {
  const { code, name, lots, runs, sent, around } = concerned;
  const customers = new Set(sent.filter(({ units }) => units > 0).map(({ customerId }) => customerId)).size;
  const aroundHere = around.reduce((sum, { here }) => sum + here, 0);
  const here = lots.reduce((sum, lot) => sum + lot.here + lot.packed, 0);
  return (
    <>
      <p class="trail">
        <a href="/trace">Trace</a>
        {" · "}
        <a href={`/trace/${thing.kind}s/${thing.id}`}>{code}</a>
      </p>
      <h1>
        Call back {code}, {name}?
      </h1>
      <p>
        {customers === 0 ? "Nobody has any of it" : capitalised(`${spelled(customers, "customer")} to tell`)};{" "}
        {pieces(here)} here.
        {thing.kind === "supply-lot" &&
          runs.length > 0 &&
          ` It is in ${spelled(runs.length, "batch", "batches")}; every lot of these is stopped, what still dries or is mixed too.`}
        {aroundHere > 0 &&
          ` ${capitalised(pieces(aroundHere))} of it stand around what is packed for ${spelled(around.length, "order")}: that stays here until it is packed anew.`}
        {thing.kind === "supply-lot" && " Nothing more is taken of it."} From now on nothing of what is
        recalled is packed or sent off.
      </p>
      <LocalRules />
      <Form action="/recalls" class="narrow">
        <FormMistake answer={answer} />
        <input type="hidden" name="kind" value={thing.kind} />
        <input type="hidden" name="id" value={String(thing.id)} />
        <Field name="reason" label="Reason" hint="In a few words." maxLength={200} answer={answer} />
        <button type="submit">Recall it</button>
      </Form>
    </>
  );
}
