import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { HeadingPage } from "../../views/setup/HeadingPage.tsx";
import type { FeatureParts } from "../app.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import { letterheadForm } from "./forms.ts";
import { changeLetterhead, isBlank, readLetterhead } from "./letterhead.ts";

/** The heading of all papers. */
export async function letterheadRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get("/setup/heading", async (request, reply) =>
    show(request, reply, freshForm(await readLetterhead(db)), 200),
  );

  app.post("/setup/heading", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: letterheadForm,
      command: changeLetterhead,
      whereTo: () => "/setup/heading",
      mistakeFor: (refusal) => refusal,
      showAgain: (answer, status) => show(request, reply, answer, status),
    }),
  );

  async function show(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const props = { isWritten: !isBlank(await readLetterhead(db)), answer };
    return render(request, reply, HeadingPage, props, { title: "Heading of papers", place: "Setup", status });
  }
}
