import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Transaction } from "../../db/connect.ts";
import { type FormAnswer, freshForm, typedText } from "../../views/components/formAnswer.ts";
import { OpenWorkshopPage } from "../../views/setup/OpenWorkshopPage.tsx";
import type { FeatureParts } from "../app.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import type { Actor } from "../http/visitor.ts";
import { zoneUnknown } from "./databaseKnows.ts";
import { type WorkshopNumbers, workshopForm } from "./forms.ts";
import { openWorkshop } from "./openWorkshop.ts";
import { ownTimeZone, timeZones } from "./timeZones.ts";
import { typedWorkshop, usualWorkshop } from "./typed.ts";

/** The choice at the first visit, and the opening of a workshop of one's own. */
export async function beginningRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  app.get("/welcome/workshop", async (request, reply) => {
    if (request.workshop) return reply.redirect("/setup", 303);
    return showBeginning(request, reply, usualNumbers(), 200);
  });

  app.post("/welcome/workshop", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: workshopForm,
      command: openOrFindOpen,
      whereTo: () => "/setup",
      mistakeFor: () => ({ field: "timeZone", sentence: zoneUnknown }),
      showAgain: (answer, status) => showBeginning(request, reply, answer, status),
    }),
  );
}

/** The page of the two ways to begin: with the sample, or with a workshop of one's own. */
export function showBeginning(
  request: FastifyRequest,
  reply: FastifyReply,
  answer: FormAnswer,
  status: number,
): FastifyReply {
  const props = { answer, timeZones: timeZones(typedText(answer, "timeZone")) };
  return render(request, reply, OpenWorkshopPage, props, { title: "Welcome", status });
}

/** The form of a workshop of one's own, filled in with the usual numbers. */
export function usualNumbers(): FormAnswer {
  return freshForm(typedWorkshop({ ...usualWorkshop, name: "", timeZone: ownTimeZone() }));
}

/** Whoever comes second finds the workshop open, which is what was wanted. */
async function openOrFindOpen(
  transaction: Transaction,
  actor: Actor,
  numbers: WorkshopNumbers,
): Promise<Result<null, "time-zone-unknown">> {
  const opened = await openWorkshop(transaction, actor, numbers);
  return opened.ok || opened.refusal === "already-open" ? ok(null) : refuse(opened.refusal);
}
