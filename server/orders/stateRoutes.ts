import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { dateOf } from "../../views/format/dates.ts";
import { OrderPage } from "../../views/orders/OrderPage.tsx";
import type { FeatureParts } from "../app.ts";
import type { Result } from "../basics/result.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { cancelOrder } from "./cancelOrder.ts";
import { findOrder } from "./oneOrder.ts";
import { confirmAdvised } from "./promiseRecord.ts";
import type { CancelRefusal, ConfirmRefusal } from "./refusals.ts";
import { clashWords } from "./sentences.ts";
import { showOrder } from "./shown.ts";

/** One order, and moving it on: confirmed or cancelled. */
export async function stateRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/orders/:id", (request, reply) => showOne(request, reply, idInPath(request, "order"), null, 200));

  app.post("/orders/:id/confirmation", (request, reply) => moveOn(request, reply, confirmAdvised));

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
