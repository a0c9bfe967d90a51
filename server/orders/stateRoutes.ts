import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { dateOf } from "../../views/format/dates.ts";
import { ConfirmationPage } from "../../views/orders/ConfirmationPage.tsx";
import { CancelPage } from "../../views/orders/EffectPage.tsx";
import { OrderPage } from "../../views/orders/OrderPage.tsx";
import type { FeatureParts } from "../app.ts";
import type { Result } from "../basics/result.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { cancelOrder } from "./cancelOrder.ts";
import { foreseeEffect } from "./foreseeEffect.ts";
import { findOrder, listLines } from "./oneOrder.ts";
import { mayCancel, type OrderState } from "./order.ts";
import { confirmAdvised } from "./promiseRecord.ts";
import type { CancelRefusal, ConfirmRefusal } from "./refusals.ts";
import { clashWords } from "./sentences.ts";
import { showOrder } from "./shown.ts";

/** What a page waits for the planner at most; it says then that it does not know. */
const MOST_WAITING_MS = 10_000;

/** One order, and moving it on: confirmed or cancelled. */
export async function stateRoutes(app: FastifyInstance, { db, clock, planner }: FeatureParts): Promise<void> {
  app.get("/orders/:id", (request, reply) => showOne(request, reply, idInPath(request, "order"), null, 200));

  app.get("/orders/:id/confirmation", async (request, reply) => {
    const order = await findOrder(db, idInPath(request, "order"));
    if (!order || order.state === "cancelled") throw notFound("order");
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    const props = { order: await showOrder(db, order, today), today };
    return render(request, reply, ConfirmationPage, props, {
      title: `Confirmation of ${order.reference}`,
      place: "Orders",
    });
  });

  app.post("/orders/:id/confirmation", (request, reply) => moveOn(request, reply, confirmAdvised));

  app.get("/orders/:id/cancellation", async (request, reply) => {
    const order = await findOrder(db, idInPath(request, "order"));
    if (!order) throw notFound("order");
    const lines = await listLines(db, order.id);
    const clash = whyNotCancelled(order.state, lines);
    if (clash) return showOne(request, reply, order.id, clashWords(clash), 409);
    const asked = {
      order,
      lines,
      change: null,
      at: clock.now(),
      signal: AbortSignal.timeout(MOST_WAITING_MS),
    };
    const effect = await foreseeEffect(db, planner, asked);
    const packed = lines.reduce((sum, line) => sum + line.packed, 0);
    const props = { orderId: order.id, reference: order.reference, effect, packed };
    return render(request, reply, CancelPage, props, { title: `Cancel ${order.reference}`, place: "Orders" });
  });

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

/** The same as the command says, before somebody asks for it. */
function whyNotCancelled(
  state: OrderState,
  lines: readonly { readonly shipped: number }[],
): CancelRefusal | null {
  if (!mayCancel(state)) return { why: "past-cancelling", state };
  const units = lines.reduce((sum, line) => sum + line.shipped, 0);
  return units > 0 ? { why: "part-shipped", units } : null;
}

type MovingOn = (
  ...given: Parameters<typeof cancelOrder>
) => Promise<Result<{ readonly orderId: number }, CancelRefusal | ConfirmRefusal>>;
