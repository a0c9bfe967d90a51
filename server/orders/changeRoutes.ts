import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { ChangeEffectPage, EFFECT_SEAL } from "../../views/orders/EffectPage.tsx";
import { OrderFormPage } from "../../views/orders/OrderFormPage.tsx";
import { OrderPage } from "../../views/orders/OrderPage.tsx";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { asTyped, fieldOf } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { changeOrder } from "./changeOrder.ts";
import { onceShown, sealEffect } from "./effectSeen.ts";
import { LOOK_AGAIN } from "./entryRoutes.ts";
import { foreseeEffect } from "./foreseeEffect.ts";
import { broughtBack } from "./formButtons.ts";
import { changedOrderForm } from "./forms.ts";
import { isOverruled, lookOver } from "./lookOver.ts";
import { findOrder, listLines, type OrderHead } from "./oneOrder.ts";
import { mayChange, type OrderContent, type OrderedProduct } from "./order.ts";
import { readCarriedAdvice } from "./promiseForm.ts";
import { withAdvice } from "./promiseRecord.ts";
import { adviceAskedFor, type PromiseParts } from "./promiseRoutes.ts";
import { listChoices } from "./queries.ts";
import { changeWords, clashWords } from "./sentences.ts";
import { changeForm, changeKind, showOrder, standingOf } from "./shown.ts";

/** Changing what an order holds. */
export async function changeRoutes(app: FastifyInstance, parts: PromiseParts): Promise<void> {
  const { db, clock, seals } = parts;
  app.get("/orders/:id/edit", async (request, reply) => {
    const order = await orderOf(request);
    if (!mayChange(order.state)) return tooLate(request, reply, order);
    return showChange(request, reply, order, null, 200);
  });

  app.post("/orders/:id/edit", async (request, reply) => {
    const order = await orderOf(request);
    const again = broughtBack(request);
    if (again) return showChange(request, reply, order, again, 200, seenBy(request));
    const form = readForm(changedOrderForm(await readCurrency(db)), request.body);
    if (!form.ok) return showChange(request, reply, order, form.refusal, 422, seenBy(request));
    const answer = freshForm(asTyped(request.body));
    const standing = standingOf(order, await listLines(db, order.id));
    const over = await lookOver(db, request.body, { today: today(request), standing });
    if (!isOverruled(request.body, over))
      return showChange(request, reply, order, withMistake(answer, "", LOOK_AGAIN), 422, seenBy(request));
    const felt = movesThePlan(standing, form.value);
    const shown = { orderId: order.id, change: form.value, seals, seal: fieldOf(request.body, EFFECT_SEAL) };
    const at = clock.now();
    const changed = await actOnce(
      db,
      request,
      at,
      (transaction) => {
        const actor = actorOf(request, at);
        const advised = {
          orderId: order.id,
          advice: readCarriedAdvice(request.body, seals, order.id),
        };
        const change = () =>
          withAdvice(transaction, actor, advised, () =>
            changeOrder(transaction, actor, { ...form.value, orderId: order.id }),
          );
        return felt ? onceShown(transaction, shown, change) : change();
      },
      ({ orderId }) => `/orders/${orderId}`,
    );
    if (changed.ok) return reply.redirect(changed.value, 303);
    const now = await orderOf(request);
    switch (changed.refusal.why) {
      case "not-found":
        throw notFound("order");
      case "past-changing":
        return tooLate(request, reply, now);
      case "effect-not-shown":
      case "effect-outdated":
        return showEffect(request, reply, now, {
          ...{ change: form.value, answer },
          outdated: changed.refusal.why === "effect-outdated",
        });
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

  /** What the change would do, before it is done; the form goes along and is sent from there. */
  async function showEffect(
    request: FastifyRequest,
    reply: FastifyReply,
    order: OrderHead,
    {
      change,
      answer,
      outdated,
    }: { readonly change: OrderContent; readonly answer: FormAnswer; readonly outdated: boolean },
  ) {
    const lines = await listLines(db, order.id);
    const seal = await sealEffect(db, seals, { orderId: order.id, change });
    const asked = { order, lines, change, at: clock.now() };
    const effect = await foreseeEffect(db, parts.planner, asked);
    const props = { orderId: order.id, reference: order.reference, effect, answer, seal, outdated };
    const head = { title: `What changing ${order.reference} does`, place: "Orders" } as const;
    return render(request, reply, ChangeEffectPage, props, { ...head, status: outdated ? 409 : 200 });
  }

  async function tooLate(request: FastifyRequest, reply: FastifyReply, order: OrderHead) {
    const clash = clashWords({ why: "past-changing", state: order.state });
    const props = {
      order: await showOrder(db, order, { today: today(request), timeZone: workshopOf(request).timeZone }),
      clash,
      advice: null,
    };
    return render(request, reply, OrderPage, props, { title: order.reference, place: "Orders", status: 409 });
  }

  /** `seen` stays what the form carried; without it the form is made from, or set against, the order as it is now. */
  async function showChange(
    request: FastifyRequest,
    reply: FastifyReply,
    order: OrderHead,
    typed: FormAnswer | null,
    status: number,
    seen?: string,
  ) {
    const lines = await listLines(db, order.id);
    const currency = await readCurrency(db);
    const answer = typed ?? changeForm(order, lines, currency);
    const standing = standingOf(order, lines);
    const props = {
      kind: changeKind(order, lines, { seen, clashed: status === 409 }),
      answer,
      over: await lookOver(db, answer.typed, { today: today(request), standing }),
      choices: await listChoices(db, {
        customerId: order.customerId,
        productIds: lines.map((line) => line.productId),
      }),
      currency,
      advice: await adviceAskedFor(parts, request, reply),
    };
    const title = `Change ${order.reference}`;
    return render(request, reply, OrderFormPage, props, { title, place: "Orders", status });
  }

  function today(request: FastifyRequest): string {
    return dateOf(clock.now(), workshopOf(request).timeZone);
  }
}

/** Whether it is a change that the others could feel: of a promise that was given, in what it asks of the workshop. */
function movesThePlan(
  before: {
    readonly confirmed: boolean;
    readonly shipBy: string;
    readonly terms: string;
    readonly lines: readonly OrderedProduct[];
  },
  after: OrderContent,
): boolean {
  const inOrder = (lines: readonly OrderedProduct[]) =>
    lines
      .map(({ productId, units }) => `${productId}:${units}`)
      .sort()
      .join();
  return (
    before.confirmed &&
    (before.shipBy !== after.shipBy ||
      before.terms !== after.terms ||
      inOrder(before.lines) !== inOrder(after.lines))
  );
}

function seenBy(request: FastifyRequest): string {
  const seen = fieldOf(request.body, "seen");
  return typeof seen === "string" ? seen : "";
}
