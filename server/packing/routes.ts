import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { GatheredPage } from "../../views/packing/GatheredPage.tsx";
import { PackingPage } from "../../views/packing/PackingPage.tsx";
import { type PackingAnswer, PackOrderPage } from "../../views/packing/PackOrderPage.tsx";
import type { FeatureParts } from "../app.ts";
import type { Result } from "../basics/result.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { completionForm, packForm, readChosenOrders, unpackForm } from "./forms.ts";
import { markPacked } from "./markPacked.ts";
import { packPieces } from "./packPieces.ts";
import { findOrderToPack, hasLine, listOrdersToPack, listPackedOrders, readGatheredList } from "./queries.ts";
import { isClash, type PackingRefusal, packingRefusalWords } from "./refusals.ts";
import { unpackPieces } from "./unpackPieces.ts";

const everyone = { config: { access: "everyone" } } as const;

/** Which form of an order's page was sent. */
type FormOnPage = Pick<PackingAnswer, "lineId" | "lotId">;

export async function packingRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/packing", everyone, async (request, reply) => {
    const { timeZone } = workshopOf(request);
    const [orders, packed] = [await listOrdersToPack(db), await listPackedOrders(db)];
    const props = { orders, packed, today: dateOf(clock.now(), timeZone), timeZone };
    return render(request, reply, PackingPage, props, { title: "Packing", place: "Packing" });
  });

  app.get("/packing/gathered", everyone, async (request, reply) => {
    const list = await readGatheredList(db, readChosenOrders(request.query));
    const props = { list, today: dateOf(clock.now(), workshopOf(request).timeZone) };
    return render(request, reply, GatheredPage, props, { title: "Gathered list", place: "Packing" });
  });

  app.get("/packing/:orderId", everyone, async (request, reply) =>
    showOrder(request, reply, idInPath(request, "order", "orderId"), null, 200),
  );

  app.post("/packing/:orderId/lines/:lineId/pieces", everyone, async (request, reply) => {
    const place = await lineIn(request);
    const form = readForm(packForm, request.body);
    if (!form.ok) return showMistakes(request, reply, place, form.refusal);
    const at = clock.now();
    const packed = await actOnce(
      db,
      request,
      at,
      (transaction) =>
        packPieces(transaction, actorOf(request, at), { orderLineId: place.lineId, ...form.value }),
      ({ orderId }) => `/packing/${orderId}`,
    );
    return answerWith(request, reply, place, packed);
  });

  app.post("/packing/:orderId/lines/:lineId/lots/:lotId/unpacking", everyone, async (request, reply) => {
    const lotId = idInPath(request, "lot", "lotId");
    const place = { ...(await lineIn(request)), lotId };
    const form = readForm(unpackForm, request.body);
    if (!form.ok) return showMistakes(request, reply, place, form.refusal);
    const at = clock.now();
    const input = { orderLineId: place.lineId, lotId, units: form.value.units };
    const unpacked = await actOnce(
      db,
      request,
      at,
      (transaction) => unpackPieces(transaction, actorOf(request, at), input),
      ({ orderId }) => `/packing/${orderId}`,
    );
    return answerWith(request, reply, place, unpacked);
  });

  app.post("/packing/:orderId/completion", everyone, async (request, reply) => {
    const orderId = idInPath(request, "order", "orderId");
    const place = { orderId, lineId: null, lotId: null };
    const form = readForm(completionForm, request.body);
    if (!form.ok) return showMistakes(request, reply, place, form.refusal);
    const at = clock.now();
    const input = { orderId, leavesShort: form.value.leaves_short };
    const marked = await actOnce(
      db,
      request,
      at,
      (transaction) => markPacked(transaction, actorOf(request, at), input),
      () => `/packing/${orderId}`,
    );
    return answerWith(request, reply, place, marked);
  });

  async function lineIn(request: FastifyRequest) {
    const orderId = idInPath(request, "order", "orderId");
    const lineId = idInPath(request, "line", "lineId");
    if (!(await hasLine(db, orderId, lineId))) throw notFound("line");
    return { orderId, lineId, lotId: null };
  }

  async function answerWith(
    request: FastifyRequest,
    reply: FastifyReply,
    place: FormOnPage & { readonly orderId: number },
    outcome: Result<string, PackingRefusal>,
  ) {
    if (outcome.ok) return reply.redirect(outcome.value, 303);
    const { refusal } = outcome;
    const answer = withMistake(freshForm(asTyped(request.body)), "", packingRefusalWords(refusal));
    return showOrder(request, reply, place.orderId, { ...place, answer }, isClash(refusal) ? 409 : 422);
  }

  function showMistakes(
    request: FastifyRequest,
    reply: FastifyReply,
    { orderId, lineId, lotId }: FormOnPage & { readonly orderId: number },
    answer: FormAnswer,
  ) {
    return showOrder(request, reply, orderId, { lineId, lotId, answer }, 422);
  }

  async function showOrder(
    request: FastifyRequest,
    reply: FastifyReply,
    orderId: number,
    answer: PackingAnswer | null,
    status: number,
  ) {
    const order = await findOrderToPack(db, orderId);
    if (!order) throw notFound("order");
    const { timeZone } = workshopOf(request);
    const props = { order, answer, today: dateOf(clock.now(), timeZone), timeZone };
    const head = { title: `Pack ${order.reference}`, place: "Packing", status } as const;
    return render(request, reply, PackOrderPage, props, head);
  }
}
