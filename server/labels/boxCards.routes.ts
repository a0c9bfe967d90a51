import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { BoxCardsPage } from "../../views/labels/BoxCardsPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { suggestPackedBoxes } from "../packing/boxQueries.ts";
import { findBoxedOrder } from "./cardQueries.ts";
import { cardSheets, usualPaper } from "./cardSheets.ts";
import { drawLabels } from "./drawLabels.ts";
import { boxCardsForm } from "./forms.ts";
import { layBoxCard } from "./layBoxCard.ts";
import type { Faces } from "./layout.ts";
import { readLabelMaker } from "./queries.ts";
import { sendPdf } from "./sendPdf.ts";

const everyone = { config: { access: "everyone" } } as const;

/** A card for each box that an order's packed pieces go into. */
export async function boxCardRoutes(
  app: FastifyInstance,
  { db, clock, faces }: FeatureParts & { readonly faces: Faces },
): Promise<void> {
  app.get("/labels/orders/:orderId/boxes", everyone, async (request, reply) => {
    const read = readForm(boxCardsForm, request.query);
    return read.ok
      ? showBoxes(request, reply, freshForm(asTyped(request.query)), 200)
      : showBoxes(request, reply, read.refusal, 422);
  });

  app.get("/labels/orders/:orderId/boxes.pdf", everyone, async (request, reply) => {
    const read = readForm(boxCardsForm, request.query);
    if (!read.ok) return showBoxes(request, reply, read.refusal, 422);
    const { reference, cards } = await boxesOf(request);
    if (cards.length === 0) return showBoxes(request, reply, freshForm(asTyped(request.query)), 409);
    const { market } = await readLabelMaker(db);
    const sheet = cardSheets[read.value.paper ?? usualPaper(market)];
    const pdf = await drawLabels({
      ...{ title: `Boxes of ${reference}`, sheet, first: 1 },
      faces: cards.map((card) => layBoxCard(card, sheet, faces)),
    });
    return sendPdf(reply, pdf, `boxes-${reference.replaceAll(/[^\w-]+/g, "-")}`);
  });

  async function boxesOf(request: FastifyRequest) {
    const orderId = idInPath(request, "order", "orderId");
    const { timeZone } = workshopOf(request);
    const order = await findBoxedOrder(db, orderId, timeZone);
    if (!order) throw notFound("order");
    const { reference, customer } = order;
    const boxed = await suggestPackedBoxes(db, orderId, dateOf(clock.now(), timeZone));
    const cards = (boxed?.boxes ?? []).map((box) => ({ ...box, reference, customer }));
    return { orderId, reference, cards, unboxed: boxed?.unboxed ?? [] };
  }

  async function showBoxes(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const { market } = await readLabelMaker(db);
    const typed = { paper: usualPaper(market), ...answer.typed };
    const props = { ...(await boxesOf(request)), answer: { typed, mistakes: answer.mistakes } };
    const head = { title: `Boxes of ${props.reference}`, place: "Packing", status } as const;
    return render(request, reply, BoxCardsPage, props, head);
  }
}
