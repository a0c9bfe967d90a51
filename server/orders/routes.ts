import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { freshForm, typedList, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { NextLine } from "../../views/orders/NextLine.tsx";
import { OrderFormPage } from "../../views/orders/OrderFormPage.tsx";
import { OrderPage } from "../../views/orders/OrderPage.tsx";
import { OrdersPage } from "../../views/orders/OrdersPage.tsx";
import type { OrderFormKind } from "../../views/orders/orderForm.ts";
import type { FeatureParts } from "../app.ts";
import type { Result } from "../basics/result.ts";
import { actOnce, fieldOf } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { asTyped, readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { cancelOrder } from "./cancelOrder.ts";
import { changeOrder } from "./changeOrder.ts";
import { confirmOrder } from "./confirmOrder.ts";
import { enterOrder } from "./enterOrder.ts";
import { readFilter } from "./filter.ts";
import { changedOrderForm, newOrderForm, typedLines } from "./forms.ts";
import { orderImportRoutes } from "./importRoutes.ts";
import { findOrder, listLines, type OrderHead } from "./oneOrder.ts";
import { mayChange } from "./order.ts";
import { listChoices } from "./queries.ts";
import { nextReference } from "./references.ts";
import type { CancelRefusal, ConfirmRefusal } from "./refusals.ts";
import { changeWords, clashWords, contentWords } from "./sentences.ts";
import { changeForm, changeKind, showList, showOrder } from "./shown.ts";

/** Empty lines a new order begins with. */
const FIRST_LINES = 4;

export async function orderRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  await app.register(listAndEntryRoutes, parts);
  await app.register(changeRoutes, parts);
  await app.register(stateRoutes, parts);
  await app.register(orderImportRoutes, parts);
}

/** The list, and entering an order by hand. */
async function listAndEntryRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  const todayFor = (request: FastifyRequest) => dateOf(clock.now(), workshopOf(request).timeZone);

  app.get("/orders", async (request, reply) => {
    const list = await showList(db, readFilter(request.query), todayFor(request), request.query);
    return render(request, reply, OrdersPage, list, { title: "Orders", place: "Orders" });
  });

  app.get("/orders/new", (request, reply) => {
    const blank = Array.from({ length: FIRST_LINES }, () => "");
    return showNew(request, reply, freshForm({ product: blank, units: blank }), 200);
  });

  app.post("/orders/new", async (request, reply) => {
    if (wantsOneMoreLine(request)) return showNew(request, reply, withOneMoreLine(request), 200);
    const form = readForm(newOrderForm, request.body);
    if (!form.ok) return showNew(request, reply, form.refusal, 422);
    const at = clock.now();
    const entered = await actOnce(
      db,
      request,
      at,
      (transaction) => enterOrder(transaction, actorOf(request, at), form.value),
      ({ orderId }) => `/orders/${orderId}`,
    );
    if (entered.ok) return reply.redirect(entered.value, 303);
    const { field, sentence } = contentWords(entered.refusal, form.value.lines);
    return showNew(request, reply, withMistake(freshForm(asTyped(request.body)), field, sentence), 422);
  });

  app.post("/orders/lines", async (request, reply) => {
    const { products } = await listChoices(db);
    const place = typedLines(request.body).length;
    return render(request, reply, NextLine, { place, products }, { title: "One more line", place: "Orders" });
  });

  async function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const next = { shop: await nextReference(db, "W"), market: await nextReference(db, "M") };
    const kind: OrderFormKind = { is: "new", next };
    const props = { kind, answer, choices: await listChoices(db) };
    return render(request, reply, OrderFormPage, props, {
      title: "Enter an order",
      place: "Orders",
      status,
    });
  }
}

/** Changing what an order holds. */
async function changeRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/orders/:id/edit", async (request, reply) => {
    const order = await orderOf(request);
    if (!mayChange(order.state)) return tooLate(request, reply, order);
    return showChange(request, reply, order, null, 200);
  });

  app.post("/orders/:id/edit", async (request, reply) => {
    const order = await orderOf(request);
    if (wantsOneMoreLine(request))
      return showChange(request, reply, order, withOneMoreLine(request), 200, seenBy(request));
    const form = readForm(changedOrderForm, request.body);
    if (!form.ok) return showChange(request, reply, order, form.refusal, 422, seenBy(request));
    const at = clock.now();
    const changed = await actOnce(
      db,
      request,
      at,
      (transaction) => changeOrder(transaction, actorOf(request, at), { ...form.value, orderId: order.id }),
      ({ orderId }) => `/orders/${orderId}`,
    );
    if (changed.ok) return reply.redirect(changed.value, 303);
    const now = await orderOf(request);
    const answer = freshForm(asTyped(request.body));
    switch (changed.refusal.why) {
      case "not-found":
        throw notFound("order");
      case "past-changing":
        return tooLate(request, reply, now);
      case "changed-meanwhile":
        return showChange(request, reply, now, answer, 409);
      default: {
        const { field, sentence } = changeWords(changed.refusal, form.value.lines);
        return showChange(request, reply, now, withMistake(answer, field, sentence), 422, form.value.seen);
      }
    }
  });

  async function orderOf(request: FastifyRequest): Promise<OrderHead> {
    const order = await findOrder(db, idInPath(request, "order"));
    if (!order) throw notFound("order");
    return order;
  }

  async function tooLate(request: FastifyRequest, reply: FastifyReply, order: OrderHead) {
    const clash = clashWords({ why: "past-changing", state: order.state });
    const props = { order: await showOrder(db, order, today(request)), clash };
    return render(request, reply, OrderPage, props, { title: order.reference, place: "Orders", status: 409 });
  }

  /** `seen` stays what the form carried; without it the form is made from, or set against, the order as it is now. */
  async function showChange(
    request: FastifyRequest,
    reply: FastifyReply,
    order: OrderHead,
    answer: FormAnswer | null,
    status: number,
    seen?: string,
  ) {
    const lines = await listLines(db, order.id);
    const kind = changeKind(order, lines, { seen, clashed: status === 409 });
    const choices = await listChoices(db, {
      customerId: order.customerId,
      productIds: lines.map((line) => line.productId),
    });
    const props = { kind, answer: answer ?? changeForm(order, lines), choices };
    const title = `Change ${order.reference}`;
    return render(request, reply, OrderFormPage, props, { title, place: "Orders", status });
  }

  function today(request: FastifyRequest): string {
    return dateOf(clock.now(), workshopOf(request).timeZone);
  }
}

/** One order, and moving it on: confirmed or cancelled. */
async function stateRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/orders/:id", (request, reply) => showOne(request, reply, idInPath(request, "order"), null, 200));

  app.post("/orders/:id/confirmation", (request, reply) => moveOn(request, reply, confirmOrder));

  app.post("/orders/:id/cancellation", (request, reply) => moveOn(request, reply, cancelOrder));

  async function moveOn(
    request: FastifyRequest,
    reply: FastifyReply,
    command: MovingOn,
  ): Promise<FastifyReply> {
    const orderId = idInPath(request, "order");
    const at = clock.now();
    const moved = await actOnce(
      db,
      request,
      at,
      (transaction) => command(transaction, actorOf(request, at), { orderId }),
      () => `/orders/${orderId}`,
    );
    if (moved.ok) return reply.redirect(moved.value, 303);
    if (moved.refusal.why === "not-found") throw notFound("order");
    return showOne(request, reply, orderId, clashWords(moved.refusal), 409);
  }

  async function showOne(
    request: FastifyRequest,
    reply: FastifyReply,
    orderId: number,
    clash: string | null,
    status: number,
  ): Promise<FastifyReply> {
    const order = await findOrder(db, orderId);
    if (!order) throw notFound("order");
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    const props = { order: await showOrder(db, order, today), clash };
    return render(request, reply, OrderPage, props, { title: order.reference, place: "Orders", status });
  }
}

type MovingOn = (
  ...given: Parameters<typeof cancelOrder>
) => Promise<Result<{ readonly orderId: number }, CancelRefusal | ConfirmRefusal>>;

function seenBy(request: FastifyRequest): string {
  const seen = fieldOf(request.body, "seen");
  return typeof seen === "string" ? seen : "";
}

/** The button that works without JavaScript: it sends the form only to get it back with a line more. */
function wantsOneMoreLine(request: FastifyRequest): boolean {
  return fieldOf(request.body, "save") === "one-more-line";
}

function withOneMoreLine(request: FastifyRequest): FormAnswer {
  const answer = freshForm(asTyped(request.body));
  const { typed } = answer;
  const longer = (name: string) => [...typedList(answer, name), ""];
  return freshForm({ ...typed, product: longer("product"), units: longer("units") });
}
