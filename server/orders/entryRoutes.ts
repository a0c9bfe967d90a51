import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { LookedOverPart } from "../../views/orders/LookedOverPart.tsx";
import { NextLine } from "../../views/orders/NextLine.tsx";
import { OrderFormPage } from "../../views/orders/OrderFormPage.tsx";
import type { OrderFormKind } from "../../views/orders/orderForm.ts";
import { actOnce } from "../http/actOnce.ts";
import { asTyped, fieldOf } from "../http/formFields.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { readCopy } from "./copyOrder.ts";
import { enterOrder } from "./enterOrder.ts";
import { broughtBack } from "./formButtons.ts";
import { newOrderForm } from "./forms.ts";
import { typedLines } from "./lineFields.ts";
import { isOverruled, lookOver } from "./lookOver.ts";
import { readCarriedAdvice } from "./promiseForm.ts";
import { withAdvice } from "./promiseRecord.ts";
import { adviceAskedFor, type PromiseParts } from "./promiseRoutes.ts";
import { listChoices } from "./queries.ts";
import { nextReference } from "./references.ts";
import { contentWords } from "./sentences.ts";
import { readStanding } from "./shown.ts";

/** Empty lines a new order begins with. */
const FIRST_LINES = 4;

/** Entering an order by hand, and looking it over while it is typed. */
export async function entryRoutes(app: FastifyInstance, parts: PromiseParts): Promise<void> {
  const { db, clock, seals } = parts;
  const todayFor = (request: FastifyRequest) => dateOf(clock.now(), workshopOf(request).timeZone);

  app.get("/orders/new", async (request, reply) => {
    const copy = await readCopy(db, request.query);
    if (copy) return showNew(request, reply, copy.answer, 200, copy);
    const blank = Array.from({ length: FIRST_LINES }, () => "");
    return showNew(request, reply, freshForm({ product: blank, units: blank }), 200);
  });

  app.post("/orders/new", async (request, reply) => {
    const again = broughtBack(request);
    if (again) return showNew(request, reply, again, 200);
    const form = readForm(newOrderForm(await readCurrency(db)), request.body);
    if (!form.ok) return showNew(request, reply, form.refusal, 422);
    const over = await lookOver(db, request.body, { today: todayFor(request) });
    const typed = freshForm(asTyped(request.body));
    if (!isOverruled(request.body, over))
      return showNew(request, reply, withMistake(typed, "", LOOK_AGAIN), 422);
    const at = clock.now();
    const entered = await actOnce(
      db,
      request,
      at,
      (transaction) => {
        const actor = actorOf(request, at);
        const advice = readCarriedAdvice(request.body, seals, null);
        return withAdvice(transaction, actor, { orderId: null, advice }, () =>
          enterOrder(transaction, actor, form.value),
        );
      },
      ({ orderId }) => `/orders/${orderId}`,
    );
    if (entered.ok) return reply.redirect(entered.value, 303);
    const { field, sentence } = contentWords(entered.refusal, form.value.lines);
    return showNew(request, reply, withMistake(typed, field, sentence), 422);
  });

  app.post("/orders/lines", async (request, reply) => {
    const { products } = await listChoices(db);
    const fixed = fieldOf(request.query, "prices") === "fixed";
    const currency = fixed ? null : await readCurrency(db);
    const props = { place: typedLines(request.body).length, products, currency };
    return render(request, reply, NextLine, props, { title: "One more line", place: "Orders" });
  });

  // While the form is typed; the number of an order that is being changed comes along.
  app.post("/orders/look-over", async (request, reply) => {
    const standing = await readStanding(db, request.body);
    const over = await lookOver(db, request.body, { today: todayFor(request), standing });
    const { products } = await listChoices(db);
    const props = { over, products, answer: freshForm(asTyped(request.body)) };
    return render(request, reply, LookedOverPart, props, { title: "What it comes to", place: "Orders" });
  });

  async function showNew(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer,
    status: number,
    copied: { readonly reference: string; readonly leftOut: readonly string[] } | null = null,
  ) {
    const next = { shop: await nextReference(db, "W"), market: await nextReference(db, "M") };
    const kind: OrderFormKind = { is: "new", next, copied };
    const over = await lookOver(db, answer.typed, { today: todayFor(request) });
    const advice = await adviceAskedFor(parts, request, reply);
    const [choices, currency] = [await listChoices(db), await readCurrency(db)];
    const props = { kind, answer, over, choices, currency, advice };
    return render(request, reply, OrderFormPage, props, {
      title: "Enter an order",
      place: "Orders",
      status,
    });
  }
}

/** What a form says that has warnings nobody has overruled. */
export const LOOK_AGAIN =
  "Not taken yet: see below what does not fit this customer. Put it right, or tick that it is meant so, and send it again.";
