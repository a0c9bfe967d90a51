import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Transaction } from "../../db/connect.ts";
import { type FormAnswer, freshForm, typedText } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { OpenWorkshopPage } from "../../views/setup/OpenWorkshopPage.tsx";
import { SetupPage } from "../../views/setup/SetupPage.tsx";
import { WorkshopPage } from "../../views/setup/WorkshopPage.tsx";
import type { FeatureParts } from "../app.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { type Actor, workshopOf } from "../http/visitor.ts";
import { changeWorkshop } from "./changeWorkshop.ts";
import { databaseKnows } from "./databaseKnows.ts";
import { type WorkshopNumbers, workshopForm } from "./forms.ts";
import { openWorkshop } from "./openWorkshop.ts";
import { readSetupFacts, readWorkshop } from "./queries.ts";
import { whatIsMissing } from "./readiness.ts";
import { sessionRoutes } from "./sessions.routes.ts";
import { shapeRoutes } from "./shapes.routes.ts";
import { ownTimeZone, timeZones } from "./timeZones.ts";
import { typedWorkshop, usualWorkshop } from "./typed.ts";

/** The first choice, the overview, the numbers of the workshop as a whole; shapes and sessions beside them. */
export async function workshopRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  await app.register(shapeRoutes, parts);
  await app.register(sessionRoutes, parts);

  app.get("/welcome/workshop", async (request, reply) => {
    if (request.workshop) return reply.redirect("/setup", 303);
    const usual = typedWorkshop({ ...usualWorkshop, name: "", timeZone: ownTimeZone() });
    return showChoice(request, reply, freshForm(usual), 200);
  });

  app.post("/welcome/workshop", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: workshopForm,
      command: openWithKnownZone,
      whereTo: () => "/setup",
      mistakeFor: () => zoneUnknown,
      showAgain: (answer, status) => showChoice(request, reply, answer, status),
    }),
  );

  app.get("/setup", async (request, reply) => {
    const facts = await readSetupFacts(db, dateOf(clock.now(), workshopOf(request).timeZone));
    const missing = whatIsMissing(facts);
    return render(request, reply, SetupPage, { facts, missing }, { title: "Setup", place: "Setup" });
  });

  app.get("/setup/workshop", async (request, reply) =>
    showWorkshop(request, reply, freshForm(typedWorkshop(await readWorkshop(db))), 200),
  );

  app.post("/setup/workshop", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: workshopForm,
      command: changeWorkshop,
      whereTo: () => "/setup",
      mistakeFor: () => zoneUnknown,
      showAgain: (answer, status) => showWorkshop(request, reply, answer, status),
    }),
  );

  async function showWorkshop(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer,
    status: number,
  ) {
    const workshop = await readWorkshop(db);
    const props = { workshop, answer, timeZones: timeZones(workshop.timeZone) };
    return render(request, reply, WorkshopPage, props, { title: "Workshop", place: "Setup", status });
  }
}

/** Whoever comes second finds the workshop open, which is what was wanted. */
async function openWithKnownZone(
  transaction: Transaction,
  actor: Actor,
  numbers: WorkshopNumbers,
): Promise<Result<null, "time-zone-unknown">> {
  if (!(await databaseKnows(transaction, numbers.timeZone))) return refuse("time-zone-unknown");
  await openWorkshop(transaction, actor, numbers);
  return ok(null);
}

const zoneUnknown: Mistake = {
  field: "timeZone",
  sentence: "The database does not know this time zone: choose one nearby that keeps the same time.",
};

function showChoice(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  const props = { answer, timeZones: timeZones(typedText(answer, "timeZone")) };
  return render(request, reply, OpenWorkshopPage, props, { title: "Welcome", status });
}
