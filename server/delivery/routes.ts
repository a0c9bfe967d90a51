import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { DeliveriesPage } from "../../views/delivery/DeliveriesPage.tsx";
import { DeliveryPage } from "../../views/delivery/DeliveryPage.tsx";
import { ShipPage } from "../../views/delivery/ShipPage.tsx";
import { dateOf } from "../../views/format/dates.ts";
import { paperShop } from "../../views/papers/paperShop.ts";
import { slipPaper } from "../../views/papers/slipPaper.ts";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { suggestPackedBoxes } from "../packing/boxQueries.ts";
import { listPackingNotes } from "../packing/packingNotes.ts";
import { shownLetterhead } from "../papers/letterhead.ts";
import { sendPaper } from "../papers/sendPaper.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { listCarrierChoices } from "./carrierQueries.ts";
import { carrierRoutes } from "./carriers.routes.ts";
import { crateRoutes } from "./crate.routes.ts";
import { shippingForm } from "./parcelForms.ts";
import { listParcels } from "./parcelQueries.ts";
import { parcelRoutes } from "./parcels.routes.ts";
import { findKeptPromise } from "./promiseQueries.ts";
import { promiseRoutes } from "./promises.routes.ts";
import {
  findDelivery,
  findOrderToShip,
  listArrivedLately,
  listUnderWay,
  listWaitingToLeave,
} from "./queries.ts";
import { recordDelivered } from "./recordDelivered.ts";
import { deliveryRefusalWords } from "./refusals.ts";
import { shipOrder } from "./shipOrder.ts";

const everyone = { config: { access: "everyone" } } as const;

export async function deliveryRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  await app.register(carrierRoutes, parts);
  await app.register(parcelRoutes, parts);
  await app.register(promiseRoutes, parts);
  await app.register(crateRoutes, parts);

  app.get("/delivery", everyone, (request, reply) => showDeliveries(request, reply, freshForm(), 200));

  app.get("/delivery/:deliveryId", everyone, async (request, reply) => {
    const delivery = await findDelivery(db, idInPath(request, "delivery", "deliveryId"));
    if (!delivery) throw notFound("delivery");
    const { timeZone } = workshopOf(request);
    const costs = await readCosts(request, delivery.deliveryId);
    const today = dateOf(clock.now(), timeZone);
    const kept = await findKeptPromise(db, delivery.orderId, { timeZone, today });
    const shop = paperShop(await shownLetterhead(db));
    const props = { delivery, costs, kept: kept ?? null, timeZone, shop };
    const head = { title: `Delivery of ${delivery.reference}`, place: "Delivery" } as const;
    return render(request, reply, DeliveryPage, props, head);
  });

  app.get("/delivery/:deliveryId/slip.pdf", everyone, async (request, reply) => {
    const delivery = await findDelivery(db, idInPath(request, "delivery", "deliveryId"));
    if (!delivery) throw notFound("delivery");
    const letterhead = await shownLetterhead(db);
    const { timeZone } = workshopOf(request);
    const paper = slipPaper(delivery, { shop: paperShop(letterhead), timeZone });
    return sendPaper(reply, paper, letterhead.paperSize);
  });

  app.post("/delivery/:deliveryId/arrival", everyone, async (request, reply) => {
    const deliveryId = idInPath(request, "delivery", "deliveryId");
    const at = clock.now();
    const arrived = await actOnce(
      db,
      request,
      at,
      (transaction) => recordDelivered(transaction, actorOf(request, at), { deliveryId }),
      () => "/delivery",
    );
    if (arrived.ok) return reply.redirect(arrived.value, 303);
    if (arrived.refusal.why === "no-such-delivery") throw notFound("delivery");
    const answer = withMistake(freshForm(), "", deliveryRefusalWords(arrived.refusal));
    return showDeliveries(request, reply, answer, 409);
  });

  app.get("/delivery/orders/:orderId", everyone, (request, reply) =>
    showOrder(request, reply, idInPath(request, "order", "orderId"), null, 200),
  );

  app.post("/delivery/orders/:orderId/shipment", everyone, async (request, reply) => {
    const orderId = idInPath(request, "order", "orderId");
    const form = readForm(shippingForm(await costCurrency(request)), request.body);
    if (!form.ok) return showOrder(request, reply, orderId, form.refusal, 422);
    const at = clock.now();
    const shipped = await actOnce(
      db,
      request,
      at,
      (transaction) => shipOrder(transaction, actorOf(request, at), { orderId, ...form.value }),
      ({ deliveryId }) => `/delivery/${deliveryId}`,
    );
    if (shipped.ok) return reply.redirect(shipped.value, 303);
    const words = deliveryRefusalWords(shipped.refusal);
    const answer = withMistake(freshForm(asTyped(request.body)), "", words);
    return showOrder(request, reply, orderId, answer, 409);
  });

  async function showDeliveries(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer,
    status: number,
  ) {
    const now = clock.now();
    const { timeZone } = workshopOf(request);
    const props = {
      waiting: await listWaitingToLeave(db),
      underWay: await listUnderWay(db),
      arrived: await listArrivedLately(db, now),
      ...{ answer, timeZone, today: dateOf(now, timeZone) },
    };
    return render(request, reply, DeliveriesPage, props, { title: "Delivery", place: "Delivery", status });
  }

  async function showOrder(
    request: FastifyRequest,
    reply: FastifyReply,
    orderId: number,
    answer: FormAnswer | null,
    status: number,
  ) {
    const order = await findOrderToShip(db, orderId);
    if (!order) throw notFound("order");
    const { timeZone } = workshopOf(request);
    const today = dateOf(clock.now(), timeZone);
    const head = { title: `Send off ${order.reference}`, place: "Delivery", status } as const;
    const boxes = await suggestPackedBoxes(db, orderId, today);
    const how = order.takesBy ?? (order.kind === "market" ? "market-crate" : "parcel");
    // A parcel for each box that is suggested, with what that weighs.
    const weights = how === "parcel" ? (boxes?.boxes ?? []) : [];
    const usual = freshForm({
      how,
      grams: weights.map(({ milligrams }) => String(Math.ceil(milligrams / 1000))),
    });
    const props = {
      ...{ order, today, timeZone, answer: answer ?? usual, boxes },
      notes: await listPackingNotes(db, orderId),
      carriers: await listCarrierChoices(db),
      currency: await costCurrency(request),
    };
    return render(request, reply, ShipPage, props, head);
  }

  /** The currency in which costs are typed, for those who see them. */
  async function costCurrency({ person }: FastifyRequest): Promise<string | null> {
    return person?.role === "owner" ? await readCurrency(db) : null;
  }

  /** What the parcels of a delivery cost, for those who see it. */
  async function readCosts(request: FastifyRequest, deliveryId: number) {
    const currency = await costCurrency(request);
    if (currency === null) return null;
    const known = (await listParcels(db, [deliveryId])).flatMap(({ parcelId, costMinor }) =>
      costMinor === null ? [] : [[parcelId, costMinor] as const],
    );
    return { currency, minor: new Map(known) };
  }
}
