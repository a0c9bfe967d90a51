import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { LotPage } from "../../views/shelf/LotPage.tsx";
import { ShelfPage } from "../../views/shelf/ShelfPage.tsx";
import { StockPage } from "../../views/shelf/StockPage.tsx";
import type { FeatureParts } from "../app.ts";
import { keptOfLot } from "../holds/queries.ts";
import { stopsOf } from "../holds/stops.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { type AddedStock, addStock, type StockRefusal } from "./addStock.ts";
import { clockMoment } from "./clockMoment.ts";
import {
  countForm,
  type DryingStock,
  dryingStockForm,
  lossForm,
  placeForm,
  readyStockForm,
} from "./forms.ts";
import { placeLots } from "./placeLots.ts";
import { findLot, ledgerOf, listProducts, listShelf, ordersOfLot } from "./queries.ts";
import { recordCount } from "./recordCount.ts";
import { recordLoss } from "./recordLoss.ts";
import { type ShelfRefusal, shelfRefusalWords } from "./refusals.ts";

type StockKind = AddedStock["kind"];
const everyone = { config: { access: "everyone" } } as const;

export async function shelfRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/shelf", everyone, async (request, reply) => {
    const props = { lots: await listShelf(db), timeZone: workshopOf(request).timeZone };
    return render(request, reply, ShelfPage, props, { title: "Shelf", place: "Shelf" });
  });

  app.get("/shelf/ready-stock", everyone, (request, reply) =>
    showStock(request, reply, "ready", freshForm(), 200),
  );

  app.post("/shelf/ready-stock", everyone, async (request, reply) => {
    const form = readForm(readyStockForm, request.body);
    if (!form.ok) return showStock(request, reply, "ready", form.refusal, 422);
    return enterStock(request, reply, { kind: "ready", ...form.value });
  });

  app.get("/shelf/drying-stock", everyone, (request, reply) =>
    showStock(request, reply, "drying", freshForm(), 200),
  );

  app.post("/shelf/drying-stock", everyone, async (request, reply) => {
    const form = readForm(dryingStockForm, request.body);
    if (!form.ok) return showStock(request, reply, "drying", form.refusal, 422);
    return enterStock(request, reply, dryingStockOf(form.value, workshopOf(request).timeZone));
  });

  app.get("/shelf/:lotId", everyone, (request, reply) => showLot(request, reply, {}, 200));

  app.post("/shelf/:lotId/loss", everyone, async (request, reply) => {
    const form = readForm(lossForm, request.body);
    if (!form.ok) return showLot(request, reply, { loss: form.refusal }, 422);
    const at = clock.now();
    const lotId = idInPath(request, "lot", "lotId");
    const lost = await actOnce(
      db,
      request,
      at,
      (transaction) => recordLoss(transaction, actorOf(request, at), { lotId, ...form.value }),
      () => `/shelf/${lotId}`,
    );
    if (lost.ok) return reply.redirect(lost.value, 303);
    return showLot(request, reply, { loss: refused(request, lost.refusal, "lostUnits") }, 409);
  });

  app.post("/shelf/:lotId/count", everyone, async (request, reply) => {
    const form = readForm(countForm, request.body);
    if (!form.ok) return showLot(request, reply, { count: form.refusal }, 422);
    const at = clock.now();
    const lotId = idInPath(request, "lot", "lotId");
    const counted = await actOnce(
      db,
      request,
      at,
      (transaction) => recordCount(transaction, actorOf(request, at), { lotId, ...form.value }),
      () => `/shelf/${lotId}`,
    );
    if (counted.ok) return reply.redirect(counted.value, 303);
    return showLot(request, reply, { count: refused(request, counted.refusal, "counted") }, 409);
  });

  app.post("/shelf/:lotId/place", everyone, async (request, reply) => {
    const form = readForm(placeForm, request.body);
    if (!form.ok) return showLot(request, reply, { place: form.refusal }, 422);
    const at = clock.now();
    const lotId = idInPath(request, "lot", "lotId");
    const placed = await actOnce(
      db,
      request,
      at,
      (transaction) => placeLots(transaction, actorOf(request, at), { lotIds: [lotId], ...form.value }),
      () => `/shelf/${lotId}`,
    );
    if (placed.ok) return reply.redirect(placed.value, 303);
    return showLot(request, reply, { place: refused(request, placed.refusal, "shelfPlace") }, 409);
  });

  async function enterStock(request: FastifyRequest, reply: FastifyReply, stock: AddedStock) {
    const at = clock.now();
    const added = await actOnce(
      db,
      request,
      at,
      (transaction) => addStock(transaction, actorOf(request, at), stock),
      ({ lotId }) => `/shelf/${lotId}`,
    );
    if (added.ok) return reply.redirect(added.value, 303);
    const [field, sentence] = stockMistakes[added.refusal];
    const answer = withMistake({ typed: asTyped(request.body), mistakes: {} }, field, sentence);
    return showStock(request, reply, stock.kind, answer, 422);
  }

  async function showStock(
    request: FastifyRequest,
    reply: FastifyReply,
    kind: StockKind,
    answer: FormAnswer,
    status: number,
  ) {
    const props = { kind, answer, products: await listProducts(db) };
    return render(request, reply, StockPage, props, { title: "Enter stock", place: "Shelf", status });
  }

  async function showLot(
    request: FastifyRequest,
    reply: FastifyReply,
    answers: { readonly loss?: FormAnswer; readonly count?: FormAnswer; readonly place?: FormAnswer },
    status: number,
  ) {
    const lotId = idInPath(request, "lot", "lotId");
    const lot = await findLot(db, lotId);
    if (!lot) throw notFound("lot");
    const props = {
      lot,
      ledger: await ledgerOf(db, lotId),
      orders: await ordersOfLot(db, lotId),
      stops: (await stopsOf(db, [lotId])).get(lotId) ?? [],
      kept: await keptOfLot(db, lotId),
      loss: answers.loss ?? freshForm(),
      count: answers.count ?? freshForm(),
      place: answers.place ?? freshForm({ shelfPlace: lot.shelfPlace }),
      timeZone: workshopOf(request).timeZone,
    };
    return render(request, reply, LotPage, props, { title: `Lot ${lot.code}`, place: "Shelf", status });
  }
}

const stockMistakes: Record<StockRefusal, readonly [field: string, sentence: string]> = {
  "no-such-product": ["productId", "Choose one from the list."],
  "ready-before-unmolded": ["readyDate", "It can't be packed before it has left its mold."],
};

function dryingStockOf(form: DryingStock, timeZone: string): AddedStock {
  const { productId, units } = form;
  return {
    kind: "drying",
    productId,
    units,
    unmoldDueAt: form.place === "mold" ? clockMoment(form.unmoldDate, form.unmoldTime, timeZone) : null,
    readyDueAt: clockMoment(form.readyDate, form.readyTime, timeZone),
  };
}

/** The form as it was typed, with the sentence beside the number it is about. */
function refused(request: FastifyRequest, refusal: ShelfRefusal, field: string): FormAnswer {
  if (refusal.kind === "not-found") throw notFound("lot");
  return withMistake({ typed: asTyped(request.body), mistakes: {} }, field, shelfRefusalWords(refusal));
}
