import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { LearnedPage, type LearnedPlace } from "../../views/setup/LearnedPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import { acceptLosses, acceptPressing } from "./acceptFigures.ts";
import { lossForm, pressingSecondsForm } from "./forms.ts";
import { readLearned } from "./queries.ts";

/** What the batches taught: shown beside what the plan counts, and taken into it only by the owner. */
export async function learningRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  app.get("/setup/learned", (request, reply) => showLearned(request, reply, null, 200));

  app.post("/setup/learned/losses/:id", (request, reply) => {
    const productId = idInPath(request, "product");
    return takeForm(parts, request, reply, {
      schema: lossForm,
      command: (transaction, actor, { loss }) =>
        acceptLosses(transaction, actor, { productId, lossBasisPoints: loss }),
      whereTo: () => `/setup/learned#losses-${productId}`,
      mistakeFor: () => {
        throw notFound("product");
      },
      showAgain: (answer, status) =>
        showLearned(request, reply, { id: `losses-${productId}`, answer }, status),
    });
  });

  app.post("/setup/learned/pressing/:id", (request, reply) => {
    const shapeId = idInPath(request, "shape");
    return takeForm(parts, request, reply, {
      schema: pressingSecondsForm,
      command: (transaction, actor, { formSeconds }) =>
        acceptPressing(transaction, actor, { shapeId, formSeconds }),
      whereTo: () => `/setup/learned#pressing-${shapeId}`,
      mistakeFor: () => {
        throw notFound("shape");
      },
      showAgain: (answer, status) =>
        showLearned(request, reply, { id: `pressing-${shapeId}`, answer }, status),
    });
  });

  /** @param mistaken the form that was sent and could not be taken. */
  async function showLearned(
    request: FastifyRequest,
    reply: FastifyReply,
    mistaken: { readonly id: LearnedPlace; readonly answer: FormAnswer } | null,
    status: number,
  ) {
    const props = { figures: await readLearned(parts.db), mistaken };
    return render(request, reply, LearnedPage, props, {
      title: "What batches taught",
      place: "Setup",
      status,
    });
  }
}
