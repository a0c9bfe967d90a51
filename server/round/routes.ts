import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { paperShop } from "../../views/papers/paperShop.ts";
import { RoundPage } from "../../views/round/RoundPage.tsx";
import { roundPaper } from "../../views/round/roundPaper.ts";
import type { FeatureParts } from "../app.ts";
import type { DeliveryRefusal } from "../delivery/refusals.ts";
import { deliveryRefusalWords } from "../delivery/refusals.ts";
import { notFound } from "../http/errors.ts";
import { dateField, fieldOf } from "../http/formFields.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { shownLetterhead } from "../papers/letterhead.ts";
import { sendPaper } from "../papers/sendPaper.ts";
import { handOver, leaveOnRound, takeBackHandOver } from "./driveRound.ts";
import { departureForm, handOverForm, takeBackForm } from "./forms.ts";
import { readPhones, readRound } from "./roundQueries.ts";
import { roundSetupRoutes } from "./setup.routes.ts";

const everyone = { config: { access: "everyone" } } as const;

/** The local round of a day: its order, its sheet, and what was handed over at each door. */
export async function roundRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  await app.register(roundSetupRoutes, parts);

  app.get("/delivery/round", everyone, (request, reply) => showRound(request, reply, freshForm(), 200));

  app.get("/delivery/round/sheet.pdf", everyone, async (request, reply) => {
    const letterhead = await shownLetterhead(db);
    const { round, phones, on } = await roundOf(request);
    return sendPaper(
      reply,
      roundPaper(round, { on, phones, shop: paperShop(letterhead) }),
      letterhead.paperSize,
    );
  });

  app.post("/delivery/round/departure", everyone, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: departureForm,
      command: leaveOnRound,
      ...onRound(request, reply),
    }),
  );

  app.post("/delivery/round/handing-over", everyone, (request, reply) =>
    takeForm(parts, request, reply, { schema: handOverForm, command: handOver, ...onRound(request, reply) }),
  );

  app.post("/delivery/round/taking-back", everyone, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: takeBackForm,
      command: takeBackHandOver,
      ...onRound(request, reply),
    }),
  );

  /** What all forms of the round share: they lead back to its day, and are answered on it. */
  function onRound(request: FastifyRequest, reply: FastifyReply) {
    return {
      whereTo: () => backTo(request),
      mistakeFor: roundMistake,
      showAgain: (answer: FormAnswer, status: number) => showRound(request, reply, answer, status),
    };
  }

  /** The round that a link or a form asks for; today's where it says no day. */
  async function roundOf(request: FastifyRequest) {
    const { timeZone } = workshopOf(request);
    const today = dateOf(clock.now(), timeZone);
    const on = dayAskedFor(request) ?? today;
    const round = await readRound(db, { on, today, timeZone });
    const customerIds = round.stops.map(({ customerId }) => customerId);
    // Whom to ring is the owner's to know and to print.
    const isOwner = request.person?.role === "owner";
    const phones = isOwner ? await readPhones(db, customerIds) : new Map<number, string>();
    return { round, phones, on, today, timeZone };
  }

  async function showRound(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const props = { ...(await roundOf(request)), answer };
    return render(request, reply, RoundPage, props, { title: "Local round", place: "Delivery", status });
  }
}

function dayAskedFor(request: FastifyRequest): string | null {
  const asked = fieldOf(request.body, "on") ?? fieldOf(request.query, "on");
  return dateField().safeParse(asked).data ?? null;
}

function backTo(request: FastifyRequest): string {
  return `/delivery/round?on=${dayAskedFor(request) ?? ""}`;
}

function roundMistake(refusal: DeliveryRefusal): Mistake {
  if (refusal.why === "no-such-order") throw notFound("order");
  if (refusal.why === "no-such-delivery") throw notFound("delivery");
  return { field: "", sentence: deliveryRefusalWords(refusal), status: 409 };
}
