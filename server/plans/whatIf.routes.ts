import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { NoPlanPage } from "../../views/plans/NoPlanPage.tsx";
import { obstacleToPlanning } from "../../views/plans/objectionWords.ts";
import { WhatIfPage } from "../../views/plans/WhatIfPage.tsx";
import { WhatIfStartPage } from "../../views/plans/WhatIfStartPage.tsx";
import type { FeatureParts } from "../app.ts";
import { asTyped } from "../http/formFields.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { askQuestion, type Question } from "./askQuestion.ts";
import { planBoth } from "./planBoth.ts";
import { findPlanNames, type PlanNames } from "./queries.ts";
import { changedCase } from "./whatIf.ts";
import { whatIfChoices, whatIfFigures } from "./whatIfFigures.ts";
import { misfitSentence, whatIfForm } from "./whatIfForm.ts";

const HEAD = { title: "What if", place: "Plan" } as const;

/** Today's question with other numbers, beside today's. Nothing is kept: the link is the question. */
export async function whatIfRoutes(
  app: FastifyInstance,
  { db, clock, planner }: FeatureParts,
): Promise<void> {
  app.get("/plan/what-if", async (request, reply) => {
    const question = await askQuestion(db, clock.now());
    if (!question.ok) {
      const { headline, ...obstacle } = obstacleToPlanning(question.refusal);
      return render(
        request,
        reply,
        NoPlanPage,
        { headline, obstacles: [obstacle] },
        { ...HEAD, status: 422 },
      );
    }
    const references = question.value.planCase.orders.map(({ id }) => id);
    return await answer(request, reply, question.value, await findPlanNames(db, references));
  });

  async function answer(request: FastifyRequest, reply: FastifyReply, question: Question, names: PlanNames) {
    const { planCase } = question;
    if (Object.keys(request.query ?? {}).length === 0)
      return showForm(request, reply, question, names, freshForm(), 200);
    const form = readForm(whatIfForm, request.query);
    if (!form.ok) return showForm(request, reply, question, names, form.refusal, 422);
    const typed: FormAnswer = { typed: asTyped(request.query), mistakes: {} };
    const changed = changedCase(planCase, form.value);
    if (!changed.ok) {
      const { field, sentence } = misfitSentence(changed.refusal);
      return showForm(request, reply, question, names, withMistake(typed, field, sentence), 422);
    }
    const both = await planBoth(planner, planCase, changed.value, untilGone(reply));
    if (!both.ok) {
      const { headline, ...obstacle } = obstacleToPlanning(both.refusal);
      return render(
        request,
        reply,
        NoPlanPage,
        { headline, obstacles: [obstacle] },
        { ...HEAD, status: 503 },
      );
    }
    const [today, otherPlan] = both.value;
    const figures = whatIfFigures({
      question,
      changed: changed.value,
      whatIf: form.value,
      today,
      otherPlan,
      names,
    });
    const props = { whatIf: figures, choices: whatIfChoices(planCase, names), answer: typed };
    return render(request, reply, WhatIfPage, props, HEAD);
  }

  function showForm(
    request: FastifyRequest,
    reply: FastifyReply,
    { planCase }: Question,
    names: PlanNames,
    typed: FormAnswer,
    status: number,
  ) {
    const props = { choices: whatIfChoices(planCase, names), answer: typed };
    return render(request, reply, WhatIfStartPage, props, { ...HEAD, status });
  }
}

/** Nobody else sees what a what-if comes to: it ends when its page is left. */
function untilGone(reply: FastifyReply): AbortSignal {
  const gone = new AbortController();
  reply.raw.once("close", () => {
    if (!reply.raw.writableEnded) gone.abort();
  });
  return gone.signal;
}
