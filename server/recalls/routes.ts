import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, typedText, withMistake } from "../../views/components/formAnswer.ts";
import { NewRecallPage } from "../../views/recalls/NewRecallPage.tsx";
import { RecallPage } from "../../views/recalls/RecallPage.tsx";
import { RecallsPage } from "../../views/recalls/RecallsPage.tsx";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { beginRecall, type RecalledThing } from "./beginRecall.ts";
import { endRecall } from "./endRecall.ts";
import { endForm, noticeForm, recallForm } from "./forms.ts";
import { findOpenRecall, findRecall, listRecalls, readConcerned } from "./queries.ts";
import { recallFile } from "./recallFile.ts";
import { recordNotice } from "./recordNotice.ts";
import { type RecallRefusal, recallRefusalWords } from "./refusals.ts";

/** Calling lots back: the owner's, as it names customers and whom to call there. */
export async function recallRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/recalls", async (request, reply) => {
    const props = { recalls: await listRecalls(db), timeZone: workshopOf(request).timeZone };
    return render(request, reply, RecallsPage, props, { title: "Recalls", place: "Supplies" });
  });

  app.get("/recalls/new", async (request, reply) => {
    const thing = thingIn(freshForm(asTyped(request.query)));
    const open = await findOpenRecall(db, thing);
    if (open) return reply.redirect(`/recalls/${open.id}`, 303);
    return showNew(request, reply, thing, freshForm(), 200);
  });

  app.post("/recalls", async (request, reply) => {
    const form = readForm(recallForm, request.body);
    if (!form.ok) return showNew(request, reply, thingIn(form.refusal), form.refusal, 422);
    const at = clock.now();
    const begun = await actOnce(
      db,
      request,
      at,
      (transaction) => beginRecall(transaction, actorOf(request, at), form.value),
      ({ recallId }) => `/recalls/${recallId}`,
    );
    if (begun.ok) return reply.redirect(begun.value, 303);
    return showNew(request, reply, form.value, refused(request, begun.refusal), 409);
  });

  app.get("/recalls/:id", (request, reply) => showRecall(request, reply, {}, 200));

  app.get("/recalls/:id/told.csv", async (request, reply) => {
    const recall = await recallIn(request);
    return reply
      .type("text/csv; charset=utf-8; header=present")
      .header("Content-Disposition", `attachment; filename="recall-${recall.code.toLowerCase()}.csv"`)
      .send(recallFile(recall, workshopOf(request).timeZone));
  });

  app.post("/recalls/:id/notices", async (request, reply) => {
    const form = readForm(noticeForm, request.body);
    if (!form.ok) return showRecall(request, reply, { notice: form.refusal }, 422);
    const at = clock.now();
    const recallId = idInPath(request, "recall");
    const told = await actOnce(
      db,
      request,
      at,
      (transaction) => recordNotice(transaction, actorOf(request, at), { recallId, ...form.value }),
      () => `/recalls/${recallId}`,
    );
    if (told.ok) return reply.redirect(told.value, 303);
    return showRecall(request, reply, { notice: refused(request, told.refusal) }, 409);
  });

  app.post("/recalls/:id/end", async (request, reply) => {
    const form = readForm(endForm, request.body);
    if (!form.ok) return showRecall(request, reply, { end: form.refusal }, 422);
    const at = clock.now();
    const recallId = idInPath(request, "recall");
    const ended = await actOnce(
      db,
      request,
      at,
      (transaction) => endRecall(transaction, actorOf(request, at), { recallId, ...form.value }),
      () => `/recalls/${recallId}`,
    );
    if (ended.ok) return reply.redirect(ended.value, 303);
    return showRecall(request, reply, { end: refused(request, ended.refusal) }, 409);
  });

  async function showNew(
    request: FastifyRequest,
    reply: FastifyReply,
    thing: RecalledThing,
    answer: FormAnswer,
    status: number,
  ) {
    const concerned = await readConcerned(db, thing);
    if (!concerned) throw notFound("lot");
    const { kind, id } = thing;
    const head = { title: `Recall ${concerned.code}`, place: "Supplies", status } as const;
    return render(request, reply, NewRecallPage, { thing: { kind, id }, concerned, answer }, head);
  }

  async function showRecall(
    request: FastifyRequest,
    reply: FastifyReply,
    answers: { readonly notice?: FormAnswer; readonly end?: FormAnswer },
    status: number,
  ) {
    const recall = await recallIn(request);
    const asked = typedText(freshForm(asTyped(request.query)), "told");
    const next = recall.recipients.find(({ notices }) => notices.length === 0);
    const fresh = freshForm({ customerId: asked || String(next?.customerId ?? ""), unitsBack: "0" });
    const props = {
      ...{ recall, notice: answers.notice ?? fresh, end: answers.end ?? freshForm() },
      timeZone: workshopOf(request).timeZone,
    };
    const head = { title: `Recall of ${recall.code}`, place: "Supplies", status } as const;
    return render(request, reply, RecallPage, props, head);
  }

  async function recallIn(request: FastifyRequest) {
    const recall = await findRecall(db, idInPath(request, "recall"));
    if (!recall) throw notFound("recall");
    return recall;
  }
}

/** Which lot is meant; one that cannot be is answered as a missing page. */
function thingIn(typed: FormAnswer): RecalledThing {
  const kind = typedText(typed, "kind");
  const id = typedText(typed, "id");
  if ((kind !== "lot" && kind !== "supply-lot") || !/^[1-9]\d{0,8}$/.test(id)) throw notFound("lot");
  return { kind, id: Number(id) };
}

function refused(request: FastifyRequest, refusal: RecallRefusal): FormAnswer {
  if (refusal.why === "no-such-lot") throw notFound("lot");
  if (refusal.why === "no-such-recall") throw notFound("recall");
  return withMistake(freshForm(asTyped(request.body)), "", recallRefusalWords(refusal));
}
