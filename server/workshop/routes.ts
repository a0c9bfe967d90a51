import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { SetupPage } from "../../views/setup/SetupPage.tsx";
import { WorkshopPage } from "../../views/setup/WorkshopPage.tsx";
import type { FeatureParts } from "../app.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { beginningRoutes } from "./beginning.routes.ts";
import { changeWorkshop } from "./changeWorkshop.ts";
import { zoneUnknown } from "./databaseKnows.ts";
import { workshopForm } from "./forms.ts";
import { readSetupFacts, readWorkshop } from "./queries.ts";
import { whatIsMissing } from "./readiness.ts";
import { sessionRoutes } from "./sessions.routes.ts";
import { shapeRoutes } from "./shapes.routes.ts";
import { timeZones } from "./timeZones.ts";
import { typedWorkshop } from "./typed.ts";

/** The overview and the numbers of the workshop as a whole; the first choice, shapes and sessions beside them. */
export async function workshopRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  await app.register(beginningRoutes, parts);
  await app.register(shapeRoutes, parts);
  await app.register(sessionRoutes, parts);

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
      mistakeFor: () => ({ field: "timeZone", sentence: zoneUnknown }),
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
