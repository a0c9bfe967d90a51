import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { CardsPage } from "../../views/labels/CardsPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { type CardLot, findBoxedOrder, findCardLot, listCardLotsOfRun } from "./cardQueries.ts";
import { cardSheets, usualPaper } from "./cardSheets.ts";
import { drawLabels } from "./drawLabels.ts";
import { cardsForm } from "./forms.ts";
import { type Card, layCard } from "./layCard.ts";
import type { Faces } from "./layout.ts";
import { readLabelMaker } from "./queries.ts";
import { sendPdf } from "./sendPdf.ts";

const everyone = { config: { access: "everyone" } } as const;

type AskedCards = z.output<typeof cardsForm>;

/** Cards of one thing, and where they belong. */
interface CardSet {
  /** "lot K7QF", "order W-104": what they are of. */
  readonly of: string;
  readonly place: "Bench" | "Packing" | "Shelf";
  readonly back: { readonly href: string; readonly words: string };
  /** Whether it is for the packer to say how many, and for what. */
  readonly isFree: boolean;
  readonly cards: readonly Card[];
}

/** Cards for trays and boxes, with the lot as words and as a code: of a lot, of a run, of an order. */
export async function cardRoutes(
  app: FastifyInstance,
  { db, faces }: FeatureParts & { readonly faces: Faces },
): Promise<void> {
  for (const { path, find } of [
    { path: "/labels/lots/:lotId/cards", find: cardsOfLot },
    { path: "/labels/runs/:runId/cards", find: cardsOfRun },
    { path: "/labels/orders/:orderId/cards", find: cardsOfOrder },
  ]) {
    app.get(path, everyone, async (request, reply) => {
      const read = readForm(cardsForm, request.query);
      const set = await find(request, read.ok ? read.value : nothingAsked);
      if (!read.ok) return showCards(request, reply, set, read.refusal, 422);
      return showCards(request, reply, set, freshForm(asTyped(request.query)), 200);
    });

    app.get(`${path}.pdf`, everyone, async (request, reply) => {
      const read = readForm(cardsForm, request.query);
      const set = await find(request, read.ok ? read.value : nothingAsked);
      if (!read.ok) return showCards(request, reply, set, read.refusal, 422);
      if (set.cards.length === 0)
        return showCards(request, reply, set, freshForm(asTyped(request.query)), 409);
      const { gs1Prefix, market } = await readLabelMaker(db);
      const sheet = cardSheets[read.value.paper ?? usualPaper(market)];
      const pdf = await drawLabels({
        ...{ title: `Cards of ${set.of}`, sheet, first: 1 },
        faces: set.cards.map((card) => layCard(card, gs1Prefix, sheet, faces)),
      });
      return sendPdf(reply, pdf, `cards-${set.of.replaceAll(/[^\w-]+/g, "-")}`);
    });
  }

  async function cardsOfLot(request: FastifyRequest, asked: AskedCards): Promise<CardSet> {
    const lotId = idInPath(request, "lot", "lotId");
    const lot = await findCardLot(db, lotId, workshopOf(request).timeZone);
    if (!lot) throw notFound("lot");
    const kind = asked.kind ?? (lot.state === "ready" ? "box" : "tray");
    const of = asked.count ?? (kind === "tray" ? Math.max(1, lot.trays) : 1);
    const units = kind === "tray" ? lot.units : asked.units;
    return {
      ...{ of: `lot ${lot.lotCode}`, place: "Shelf", isFree: true },
      back: { href: `/shelf/${lotId}`, words: `Lot ${lot.lotCode}` },
      cards: numbered({ ...lot, kind, units, order: null }, of),
    };
  }

  async function cardsOfRun(request: FastifyRequest): Promise<CardSet> {
    const runId = idInPath(request, "run", "runId");
    const found = await listCardLotsOfRun(db, runId, workshopOf(request).timeZone);
    const [first] = found;
    if (!first) throw notFound("run");
    return {
      ...{ of: `the run of ${lotsWords(found)}`, place: "Bench", isFree: false },
      back: { href: "/bench", words: "Bench" },
      cards: found.flatMap((lot) => numbered({ ...lot, kind: "tray", order: null }, Math.max(1, lot.trays))),
    };
  }

  async function cardsOfOrder(request: FastifyRequest): Promise<CardSet> {
    const orderId = idInPath(request, "order", "orderId");
    const order = await findBoxedOrder(db, orderId, workshopOf(request).timeZone);
    if (!order) throw notFound("order");
    const { reference, customer } = order;
    return {
      ...{ of: `order ${reference}`, place: "Packing", isFree: false },
      back: { href: `/packing/${orderId}`, words: reference },
      cards: order.lots.flatMap((lot) =>
        numbered({ ...lot, kind: "box", order: { reference, customer } }, 1),
      ),
    };
  }

  async function showCards(
    request: FastifyRequest,
    reply: FastifyReply,
    set: CardSet,
    answer: FormAnswer,
    status: number,
  ) {
    const { market } = await readLabelMaker(db);
    const [card] = set.cards;
    const typed = {
      paper: usualPaper(market),
      kind: card?.kind ?? "box",
      count: String(set.cards.length),
      units: "",
      ...answer.typed,
    };
    const path = request.url.replace(/\?.*$/, "").replace(/\/?\.pdf\/?$/, "");
    const props = { ...set, address: path, answer: { typed, mistakes: answer.mistakes } };
    return render(request, reply, CardsPage, props, {
      ...{ title: `Cards of ${set.of}`, place: set.place, status },
    });
  }
}

const nothingAsked: AskedCards = { paper: null, kind: null, count: null, units: null };

function numbered(card: Omit<Card, "number" | "of">, of: number): readonly Card[] {
  return Array.from({ length: of }, (_, place) => ({ ...card, number: place + 1, of }));
}

function lotsWords(found: readonly CardLot[]): string {
  return found.map(({ lotCode }) => lotCode).join(", ");
}
