import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { HoldPage } from "../../views/holds/HoldPage.tsx";
import { KeepPage } from "../../views/holds/KeepPage.tsx";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { findLot } from "../shelf/queries.ts";
import { holdForm, keepForm, releaseForm } from "./forms.ts";
import { holdLot, releaseLot } from "./holdLot.ts";
import { keepPieces, letPiecesGo } from "./keepPieces.ts";
import { holdsOf, keptOfLot, linesWanting } from "./queries.ts";
import { type HoldRefusal, holdRefusalWords } from "./refusals.ts";
import { stopsOf } from "./stops.ts";

const everyone = { config: { access: "everyone" } } as const;

/**
 * Putting a lot on hold, which anybody may who sees that something is wrong with it, and letting it go or keeping pieces
 * for an order, which is the owner's.
 */
export async function holdRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/shelf/:lotId/hold", everyone, (request, reply) => showHold(request, reply, freshForm(), 200));

  app.post("/shelf/:lotId/hold", everyone, async (request, reply) => {
    const form = readForm(holdForm, request.body);
    if (!form.ok) return showHold(request, reply, form.refusal, 422);
    const at = clock.now();
    const lotId = idInPath(request, "lot", "lotId");
    const held = await actOnce(
      db,
      request,
      at,
      (transaction) => holdLot(transaction, actorOf(request, at), { lotId, ...form.value }),
      () => `/shelf/${lotId}`,
    );
    if (held.ok) return reply.redirect(held.value, 303);
    return showHold(request, reply, refused(request, held.refusal), 409);
  });

  app.post("/shelf/:lotId/hold/release", async (request, reply) => {
    const form = readForm(releaseForm, request.body);
    if (!form.ok) return showHold(request, reply, form.refusal, 422);
    const at = clock.now();
    const lotId = idInPath(request, "lot", "lotId");
    const released = await actOnce(
      db,
      request,
      at,
      (transaction) => releaseLot(transaction, actorOf(request, at), { lotId, ...form.value }),
      () => `/shelf/${lotId}`,
    );
    if (released.ok) return reply.redirect(released.value, 303);
    return showHold(request, reply, refused(request, released.refusal), 409);
  });

  app.get("/shelf/:lotId/kept", (request, reply) => showKept(request, reply, freshForm(), 200));

  app.post("/shelf/:lotId/kept", async (request, reply) => {
    const form = readForm(keepForm, request.body);
    if (!form.ok) return showKept(request, reply, form.refusal, 422);
    const at = clock.now();
    const lotId = idInPath(request, "lot", "lotId");
    const kept = await actOnce(
      db,
      request,
      at,
      (transaction) => keepPieces(transaction, actorOf(request, at), { lotId, ...form.value }),
      () => `/shelf/${lotId}/kept`,
    );
    if (kept.ok) return reply.redirect(kept.value, 303);
    return showKept(request, reply, refused(request, kept.refusal), 409);
  });

  app.post("/shelf/:lotId/kept/:orderLineId/undo", async (request, reply) => {
    const at = clock.now();
    const lotId = idInPath(request, "lot", "lotId");
    const orderLineId = idInPath(request, "line", "orderLineId");
    const gone = await actOnce(
      db,
      request,
      at,
      (transaction) => letPiecesGo(transaction, actorOf(request, at), { lotId, orderLineId }),
      () => `/shelf/${lotId}/kept`,
    );
    if (gone.ok) return reply.redirect(gone.value, 303);
    return showKept(request, reply, refused(request, gone.refusal), 409);
  });

  async function showHold(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const lot = await lotIn(request);
    const stops = (await stopsOf(db, [lot.id])).get(lot.id) ?? [];
    const props = {
      ...{ lot, stops, answer },
      holds: await holdsOf(db, lot.id),
      timeZone: workshopOf(request).timeZone,
    };
    const head = { title: `Lot ${lot.code} on hold`, place: "Shelf", status } as const;
    return render(request, reply, HoldPage, props, head);
  }

  async function showKept(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const lot = await lotIn(request);
    const props = {
      ...{ lot, answer },
      kept: await keptOfLot(db, lot.id),
      wanting: await linesWanting(db, lot.productId),
    };
    const head = { title: `Kept of lot ${lot.code}`, place: "Shelf", status } as const;
    return render(request, reply, KeepPage, props, head);
  }

  async function lotIn(request: FastifyRequest) {
    const lot = await findLot(db, idInPath(request, "lot", "lotId"));
    if (!lot) throw notFound("lot");
    return lot;
  }
}

function refused(request: FastifyRequest, refusal: HoldRefusal): FormAnswer {
  if (refusal.why === "no-such-lot") throw notFound("lot");
  return withMistake(freshForm(asTyped(request.body)), "", holdRefusalWords(refusal));
}
