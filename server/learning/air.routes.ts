import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { AirPage } from "../../views/bench/AirPage.tsx";
import { airWords } from "../../views/bench/airWords.ts";
import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import type { FeatureParts } from "../app.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { acceptFactor, readAir, setReference, takeReading } from "./air.ts";
import { factorForm, readingForm, referenceForm } from "./forms.ts";

const PAGE = "/bench/air";
const everyone = { config: { access: "everyone" } } as const;

/** The workshop's air: whoever is there reads it off; what it means for the plan is the owner's to take over. */
export async function airRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  const todayFor = (request: FastifyRequest) => dateOf(clock.now(), workshopOf(request).timeZone);

  app.get(PAGE, everyone, (request, reply) => showAir(request, reply, null, 200));

  app.post(PAGE, everyone, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: readingForm,
      command: (transaction, actor, air) =>
        takeReading(transaction, actor, { ...air, today: todayFor(request) }),
      whereTo: () => PAGE,
      mistakeFor: (never) => never,
      showAgain: (answer, status) => showAir(request, reply, { form: "reading", answer }, status),
    }),
  );

  app.post(`${PAGE}/reference`, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: referenceForm,
      command: setReference,
      whereTo: () => PAGE,
      mistakeFor: (never) => never,
      showAgain: (answer, status) => showAir(request, reply, { form: "reference", answer }, status),
    }),
  );

  app.post(`${PAGE}/factor`, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: factorForm,
      command: async (transaction, actor, { dryingFactor }) => {
        const { suggestion } = await readAir(transaction, todayFor(request));
        const note = suggestion === null ? "" : airWords(suggestion.reading);
        return acceptFactor(transaction, actor, { dryingFactor, note });
      },
      whereTo: () => PAGE,
      mistakeFor: () => ({
        field: "dryingFactor",
        sentence: "The day is over: reload the page.",
        status: 409,
      }),
      showAgain: (answer, status) => showAir(request, reply, { form: "factor", answer }, status),
    }),
  );

  /** @param mistaken the form that was sent and could not be taken. */
  async function showAir(
    request: FastifyRequest,
    reply: FastifyReply,
    mistaken: { readonly form: "reading" | "reference" | "factor"; readonly answer: FormAnswer } | null,
    status: number,
  ) {
    const props = {
      ...{ figures: await readAir(db, todayFor(request)), mistaken },
      timeZone: workshopOf(request).timeZone,
      owner: request.person?.role === "owner",
    };
    return render(request, reply, AirPage, props, { title: "Air", place: "Bench", status });
  }
}
