import type { FastifyInstance } from "fastify";
import { z } from "zod";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { choiceField } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { actorOf } from "../http/visitor.ts";
import { recordStillDamp } from "./recordStillDamp.ts";

/** Hours after which one looks again, as the buttons offer them. */
const stillDampForm = z.object({ hours: choiceField(["1", "2", "4", "12"], "Say when to look again.") });

/** A lot that was looked at too early. */
export async function stillDampRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.post("/bench/lots/:id/still-damp", { config: { access: "everyone" } }, async (request, reply) => {
    const lotId = idInPath(request, "lot");
    const form = readForm(stillDampForm, request.body);
    if (!form.ok) return reply.redirect(`/bench/lots/${lotId}/unmolding`, 303);
    const at = clock.now();
    const againInMinutes = Number(form.value.hours) * 60;
    const looked = await actOnce(
      db,
      request,
      at,
      (transaction) => recordStillDamp(transaction, actorOf(request, at), { lotId, againInMinutes }),
      () => "/bench",
    );
    if (looked.ok) return reply.redirect(looked.value, 303);
    if (looked.refusal.kind === "no-such-lot") throw notFound("lot");
    // It left its molds meanwhile: its page says so.
    return reply.redirect(`/shelf/${lotId}`, 303);
  });
}
