import { FormMistake } from "../components/Field.tsx";
import { Form } from "../components/Form.tsx";
import type { FormAnswer } from "../components/formAnswer.ts";
import { WorkshopFields } from "./WorkshopFields.tsx";

interface OpenWorkshopProps {
  readonly answer: FormAnswer;
  readonly timeZones: readonly string[];
}

/** The choice at the first visit: a workshop of one's own, or one to look around in. */
export function OpenWorkshopPage({ answer, timeZones }: OpenWorkshopProps) {
  return (
    <>
      <h1>How do you want to begin?</h1>
      <section class="sheet">
        <h2>With a sample workshop</h2>
        <p>
          An invented workshop in the middle of a busy week: blends, shapes with tight mold sets, shops, a
          Saturday market, stock, pieces drying, and more orders than the ball molds can take. Good for
          looking around; everything in it can be changed.
        </p>
        <Form action="/welcome/sample" class="actions">
          <button type="submit" class="quiet">
            Begin with the sample workshop
          </button>
        </Form>
      </section>
      <section class="sheet">
        <h2>With a workshop of your own</h2>
        <p>
          The numbers below are common practice among makers and no more than that. Put in your own where you
          know them; each can be changed later.
        </p>
        <Form action="/welcome/workshop">
          <FormMistake answer={answer} />
          <WorkshopFields answer={answer} timeZones={timeZones} />
          <button type="submit">Open the workshop</button>
        </Form>
      </section>
    </>
  );
}
