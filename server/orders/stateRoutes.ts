import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { dateOf } from "../../views/format/dates.ts";
import { ConfirmationPage } from "../../views/orders/ConfirmationPage.tsx";
import { CancelPage, EFFECT_SEAL } from "../../views/orders/EffectPage.tsx";
import { OrderPage } from "../../views/orders/OrderPage.tsx";
import { confirmationPaper } from "../../views/papers/confirmationPaper.ts";
import { paperShop } from "../../views/papers/paperShop.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { fieldOf } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { lockOrder } from "../packing/lockOrder.ts";
import { type Letterhead, shownLetterhead } from "../papers/letterhead.ts";
import { sendPaper } from "../papers/sendPaper.ts";
import { cancelOrder } from "./cancelOrder.ts";
import { confirmOrder } from "./confirmOrder.ts";
import { onceShown, sealEffect } from "./effectSeen.ts";
import { foreseeEffect } from "./foreseeEffect.ts";
import { findOrder, listLines, type OrderHead } from "./oneOrder.ts";
import { mayCancel, type OrderState } from "./order.ts";
import { readCarriedAdvice } from "./promiseForm.ts";
import { withAdvice } from "./promiseRecord.ts";
import { adviceAskedFor, type PromiseParts } from "./promiseRoutes.ts";
import type { CancelRefusal, ConfirmRefusal } from "./refusals.ts";
import { clashWords } from "./sentences.ts";
import { showOrder } from "./shown.ts";

/** One order, and moving it on: confirmed or cancelled. */
export async function stateRoutes(app: FastifyInstance, parts: PromiseParts): Promise<void> {
  const { db, clock, planner, seals } = parts;
  app.get("/orders/:id", (request, reply) => showOne(request, reply, idInPath(request, "order"), null, 200));

  app.get("/orders/:id/confirmation", async (request, reply) => {
    const props = await confirmationOf(request, await shownLetterhead(db));
    return render(request, reply, ConfirmationPage, props, {
      title: `Confirmation of ${props.order.reference}`,
      place: "Orders",
    });
  });

  app.get("/orders/:id/confirmation.pdf", async (request, reply) => {
    const letterhead = await shownLetterhead(db);
    const { paper } = await confirmationOf(request, letterhead);
    return sendPaper(reply, paper, letterhead.paperSize);
  });

  app.post("/orders/:id/confirmation", async (request, reply) => {
    const orderId = idInPath(request, "order");
    if (fieldOf(request.body, "save") === "promise") return showOne(request, reply, orderId, null, 200);
    const at = clock.now();
    const advised = { orderId, advice: readCarriedAdvice(request.body, seals, orderId) };
    const confirmed = await actOnce(
      db,
      request,
      at,
      (transaction) => {
        const actor = actorOf(request, at);
        return withAdvice(transaction, actor, advised, () => confirmOrder(transaction, actor, { orderId }));
      },
      () => `/orders/${orderId}`,
    );
    return confirmed.ok
      ? reply.redirect(confirmed.value, 303)
      : refused(request, reply, orderId, confirmed.refusal);
  });

  app.get("/orders/:id/cancellation", async (request, reply) =>
    showCancellation(request, reply, await orderOf(request), false),
  );

  app.post("/orders/:id/cancellation", async (request, reply) => {
    const order = await orderOf(request);
    const at = clock.now();
    const shown = { orderId: order.id, change: null, seals, seal: fieldOf(request.body, EFFECT_SEAL) };
    const cancelled = await actOnce(
      db,
      request,
      at,
      async (transaction) => {
        // Held before it is looked at: what was shown is then what is cancelled.
        await lockOrder(transaction, order.id);
        return onceShown(transaction, shown, () =>
          cancelOrder(transaction, actorOf(request, at), { orderId: order.id }),
        );
      },
      () => `/orders/${order.id}`,
    );
    if (cancelled.ok) return reply.redirect(cancelled.value, 303);
    const { refusal } = cancelled;
    if (refusal.why === "effect-not-shown" || refusal.why === "effect-outdated")
      return showCancellation(request, reply, await orderOf(request), refusal.why === "effect-outdated");
    return refused(request, reply, order.id, refusal);
  });

  /** An order that stands, with the paper that confirms it. */
  async function confirmationOf(request: FastifyRequest, letterhead: Letterhead) {
    const found = await findOrder(db, idInPath(request, "order"));
    if (!found || found.state === "cancelled") throw notFound("order");
    const { timeZone } = workshopOf(request);
    const today = dateOf(clock.now(), timeZone);
    const order = await showOrder(db, found, { today, timeZone });
    return { order, paper: confirmationPaper(order, { shop: paperShop(letterhead), today, timeZone }) };
  }

  async function orderOf(request: FastifyRequest): Promise<OrderHead> {
    const order = await findOrder(db, idInPath(request, "order"));
    if (!order) throw notFound("order");
    return order;
  }

  /** What cancelling would do, and the form that does it. */
  async function showCancellation(
    request: FastifyRequest,
    reply: FastifyReply,
    order: OrderHead,
    outdated: boolean,
  ): Promise<FastifyReply> {
    const lines = await listLines(db, order.id);
    const clash = whyNotCancelled(order.state, lines);
    if (clash) return showOne(request, reply, order.id, clashWords(clash), 409);
    const changing = { orderId: order.id, change: null };
    const seal = await sealEffect(db, seals, changing);
    const asked = { order, lines, change: null, at: clock.now() };
    const effect = await foreseeEffect(db, planner, asked);
    const packed = lines.reduce((sum, line) => sum + line.packed, 0);
    const props = { orderId: order.id, reference: order.reference, effect, packed, seal, outdated };
    const head = { title: `Cancel ${order.reference}`, place: "Orders" } as const;
    return render(request, reply, CancelPage, props, { ...head, status: outdated ? 409 : 200 });
  }

  function refused(
    request: FastifyRequest,
    reply: FastifyReply,
    orderId: number,
    refusal: CancelRefusal | ConfirmRefusal,
  ): Promise<FastifyReply> {
    if (refusal.why === "not-found") throw notFound("order");
    return showOne(request, reply, orderId, clashWords(refusal), 409);
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
    const { timeZone } = workshopOf(request);
    const today = dateOf(clock.now(), timeZone);
    const advice = order.state === "draft" ? await adviceAskedFor(parts, request, reply) : null;
    const props = { order: await showOrder(db, order, { today, timeZone }), clash, advice };
    return render(request, reply, OrderPage, props, { title: order.reference, place: "Orders", status });
  }
}

/** The same as the command says, before somebody asks for it. */
function whyNotCancelled(
  state: OrderState,
  lines: readonly { readonly shipped: number }[],
): CancelRefusal | null {
  if (!mayCancel(state)) return { why: "past-cancelling", state };
  const units = lines.reduce((sum, line) => sum + line.shipped, 0);
  return units > 0 ? { why: "part-shipped", units } : null;
}
