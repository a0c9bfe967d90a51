import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { StandingOrderFormPage } from "../../views/standing/StandingOrderFormPage.tsx";
import { type ShownStandingOrder, StandingOrderPage } from "../../views/standing/StandingOrderPage.tsx";
import { StandingOrdersPage } from "../../views/standing/StandingOrdersPage.tsx";
import { pauseWords } from "../../views/standing/standingWords.ts";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { unitsOf } from "../http/piecesFields.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import {
  type DatesRefusal,
  endPause,
  leaveOutDate,
  pauseStandingOrder,
  stopStandingOrder,
  takeDateBack,
} from "./changeDates.ts";
import { changedStandingOrderForm, newStandingOrderForm, oneDateForm, pauseForm } from "./forms.ts";
import { makeDueDrafts } from "./makeDueDrafts.ts";
import { listStandingChoices } from "./queries.ts";
import { showStandingOrder, showStandingOrders, standingForm } from "./shown.ts";
import { addStandingOrder, changeStandingOrder } from "./writeStandingOrder.ts";

const WHAT = "standing order";

/** How many days before a date its draft is made, unless somebody says otherwise: a week's planning and a week's making. */
const USUAL_DAYS_BEFORE = "14";

/** What shops want again and again, and what becomes of its dates. */
export async function standingOrderRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  await app.register(writingRoutes, parts);
  await app.register(dateRoutes, parts);
}

async function writingRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get("/orders/standing", async (request, reply) => {
    const today = todayFor(parts, request);
    await makeDueDrafts(db, parts.clock.now(), today);
    const props = { orders: await showStandingOrders(db, today) };
    return render(request, reply, StandingOrdersPage, props, { title: "Standing orders", place: "Orders" });
  });

  app.get("/orders/standing/new", (request, reply) => {
    const { customer } = request.query as { customer?: unknown };
    const answer = freshForm({
      customer: typeof customer === "string" ? customer : "",
      every_weeks: "1",
      starts_on: todayFor(parts, request),
      days_before: USUAL_DAYS_BEFORE,
    });
    return showForm(request, reply, null, answer, 200);
  });

  app.post("/orders/standing/new", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: newStandingOrderForm,
      command: addStandingOrder,
      whereTo: placeOf,
      mistakeFor: writingMistake,
      showAgain: (answer, status) => showForm(request, reply, null, answer, status),
    }),
  );

  app.get("/orders/standing/:id/edit", async (request, reply) => {
    const order = await orderOf(parts, request);
    if (order.stopped) return reply.redirect(placeOf(order), 303);
    return showForm(request, reply, order, standingForm(order), 200);
  });

  app.post("/orders/standing/:id/edit", async (request, reply) => {
    const order = await orderOf(parts, request);
    return takeForm(parts, request, reply, {
      schema: changedStandingOrderForm,
      command: (transaction, actor, content) =>
        changeStandingOrder(transaction, actor, { ...content, id: order.id }),
      whereTo: placeOf,
      mistakeFor: writingMistake,
      showAgain: (answer, status) => showForm(request, reply, order, answer, status),
    });
  });

  async function showForm(
    request: FastifyRequest,
    reply: FastifyReply,
    order: ShownStandingOrder | null,
    answer: FormAnswer,
    status: number,
  ) {
    const kept = order?.lines.map(({ productId }) => productId) ?? [];
    const props = { order, answer, ...(await listStandingChoices(db, kept)) };
    const title = order ? `Change what ${order.customer} wants` : "A new standing order";
    return render(request, reply, StandingOrderFormPage, props, { title, place: "Orders", status });
  }
}

/** One standing order, and what is decided about its dates. */
async function dateRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  app.get("/orders/standing/:id", async (request, reply) => {
    await makeDueDrafts(parts.db, parts.clock.now(), todayFor(parts, request));
    return showOne(request, reply, freshForm(), 200);
  });

  app.post("/orders/standing/:id/left-out", (request, reply) =>
    decide(request, reply, oneDateForm, leaveOutDate),
  );

  app.post("/orders/standing/:id/taken-back", (request, reply) =>
    decide(request, reply, oneDateForm, takeDateBack),
  );

  app.post("/orders/standing/:id/pauses", (request, reply) =>
    decide(request, reply, pauseForm, pauseStandingOrder),
  );

  app.post("/orders/standing/:id/pauses/:pauseId/end", (request, reply) => {
    const pauseId = idInPath(request, "pause", "pauseId");
    const today = todayFor(parts, request);
    return decide(request, reply, z.object({}), (transaction, actor, { id }) =>
      endPause(transaction, actor, { id, pauseId, today }),
    );
  });

  app.post("/orders/standing/:id/stop", (request, reply) =>
    decide(request, reply, z.object({}), stopStandingOrder),
  );

  function decide<Schema extends z.ZodType>(
    request: FastifyRequest,
    reply: FastifyReply,
    schema: Schema,
    command: (
      transaction: Parameters<typeof stopStandingOrder>[0],
      actor: Parameters<typeof stopStandingOrder>[1],
      input: z.output<Schema> & { readonly id: number },
    ) => ReturnType<typeof stopStandingOrder>,
  ): Promise<FastifyReply> {
    const id = idInPath(request, WHAT);
    return takeForm(parts, request, reply, {
      schema,
      command: (transaction, actor, input) =>
        command(transaction, actor, { ...(input as z.output<Schema> & object), id }),
      whereTo: placeOf,
      mistakeFor: datesMistake,
      showAgain: (answer, status) => showOne(request, reply, answer, status),
    });
  }

  async function showOne(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const order = await orderOf(parts, request);
    const props = { order, answer, today: todayFor(parts, request) };
    const title = `${order.customer}, again and again`;
    return render(request, reply, StandingOrderPage, props, { title, place: "Orders", status });
  }
}

function placeOf({ id }: { readonly id: number }): string {
  return `/orders/standing/${id}`;
}

async function orderOf(parts: FeatureParts, request: FastifyRequest): Promise<ShownStandingOrder> {
  const order = await showStandingOrder(parts.db, idInPath(request, WHAT), todayFor(parts, request));
  if (!order) throw notFound(WHAT);
  return order;
}

function todayFor({ clock }: FeatureParts, request: FastifyRequest): string {
  return dateOf(clock.now(), workshopOf(request).timeZone);
}

function writingMistake(
  refusal: Extract<Awaited<ReturnType<typeof addStandingOrder>>, { ok: false }>["refusal"],
): Mistake {
  switch (refusal.why) {
    case "not-found":
      throw notFound(WHAT);
    case "stopped":
      return { field: "", sentence: "It was stopped meanwhile and can no longer be changed.", status: 409 };
    case "no-such-shop":
      return { field: "customer", sentence: "Choose a shop that still orders." };
    case "product-gone":
      return { field: unitsOf(refusal.productId), sentence: "This is no longer made: leave it blank." };
  }
}

function datesMistake(refusal: DatesRefusal): Mistake {
  switch (refusal.why) {
    case "not-found":
      throw notFound(WHAT);
    case "no-such-pause":
      throw notFound("pause");
    case "stopped":
      return { field: "", sentence: "It was stopped meanwhile: no date comes up any more.", status: 409 };
    case "no-such-date":
      return { field: "", sentence: "It does not come up on that date." };
    case "drafted":
      return {
        field: "",
        sentence: "That date is a draft already: cancel the draft instead.",
        status: 409,
      };
    case "pause-over":
      return { field: "", sentence: "That pause is over already.", status: 409 };
    case "pauses-overlap":
      return { field: "first_date", sentence: `It is paused ${pauseWords(refusal)} already.` };
  }
}
