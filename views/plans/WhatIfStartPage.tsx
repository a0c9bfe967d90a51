import type { FormAnswer } from "../components/formAnswer.ts";
import { WhatIfForm } from "./WhatIfForm.tsx";
import type { WhatIfChoices } from "./whatIfFigures.ts";

/** The question of a what-if, not yet asked or not yet understood. */
export function WhatIfStartPage({
  choices,
  answer,
}: {
  readonly choices: WhatIfChoices;
  readonly answer: FormAnswer;
}) {
  return (
    <>
      <p class="trail">
        <a href="/plan">Plan</a>
      </p>
      <h1>What if something were different?</h1>
      <WhatIfForm choices={choices} answer={answer} />
    </>
  );
}
