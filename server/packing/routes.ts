import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Transaction } from "../../db/connect.ts";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { GatheredPage } from "../../views/packing/GatheredPage.tsx";
import { gatheredPaper } from "../../views/packing/gatheredPaper.ts";
import { PackingPage } from "../../views/packing/PackingPage.tsx";
import { type PackingAnswer, PackOrderPage } from "../../views/packing/PackOrderPage.tsx";
import type { FeatureParts } from "../app.ts";
import type { Result } from "../basics/result.ts";
import { listStopped } from "../holds/queries.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { asTyped, fieldOf } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { registerNews } from "../http/news.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { type Actor, actorOf, workshopOf } from "../http/visitor.ts";
import { shownLetterhead } from "../papers/letterhead.ts";
import { sendPaper } from "../papers/sendPaper.ts";
import { readPlannedOutcomes } from "../plans/plannedOutcomes.ts";
import { suggestOrderBoxes } from "./boxQueries.ts";
import { dropPackingNote } from "./dropPackingNote.ts";
import { completionForm, noteForm, packForm, readChosenOrders, scanForm, unpackForm } from "./forms.ts";
import { markPacked } from "./markPacked.ts";
import { packPieces } from "./packPieces.ts";
import { packScanned } from "./packScanned.ts";
import { findOrderToPack, hasLine, listOrdersToPack, listPackedOrders, readGatheredList } from "./queries.ts";
import { isClash, type PackingRefusal, packingRefusalWords } from "./refusals.ts";
import { unpackPieces } from "./unpackPieces.ts";
import { writePackingNote } from "./writePackingNote.ts";

const everyone = { config: { access: "everyone" } } as const;

/** Which form of an order's page was sent. */
type FormOnPage = Omit<PackingAnswer, "answer">;
type PlaceOnPage = FormOnPage & { readonly orderId: number };
type PackingCommand = (
  transaction: Transaction,
  actor: Actor,
) => Promise<Result<{ readonly orderId: number }, PackingRefusal>>;

export async function packingRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  registerNews(app, db, "packing");
  app.get("/packing", everyone, async (request, reply) => {
    const { timeZone } = workshopOf(request);
    const [orders, packed] = [await listOrdersToPack(db), await listPackedOrders(db)];
    const stopped = await listStopped(db);
    const outcomes = await readPlannedOutcomes(db);
    const props = { orders, packed, stopped, outcomes, today: dateOf(clock.now(), timeZone), timeZone };
    return render(request, reply, PackingPage, props, { title: "Packing", place: "Packing" });
  });

  app.get("/packing/gathered", everyone, async (request, reply) => {
    const list = await readGatheredList(db, readChosenOrders(request.query));
    const props = { list, today: dateOf(clock.now(), workshopOf(request).timeZone) };
    return render(request, reply, GatheredPage, props, { title: "Gathered list", place: "Packing" });
  });

  app.get("/packing/gathered/list.pdf", everyone, async (request, reply) => {
    const list = await readGatheredList(db, readChosenOrders(request.query));
    const { timeZone } = workshopOf(request);
    const now = clock.now();
    if (list.takes.length === 0) {
      // A paper without a line is of no use: the page says why there is none.
      const props = { list, today: dateOf(now, timeZone) };
      const head = { title: "Gathered list", place: "Packing", status: 409 } as const;
      return render(request, reply, GatheredPage, props, head);
    }
    const letterhead = await shownLetterhead(db);
    const paper = gatheredPaper(list, { shopName: letterhead.name, now, timeZone });
    return sendPaper(reply, paper, letterhead.paperSize);
  });

  app.get("/packing/:orderId", everyone, async (request, reply) =>
    showOrder(request, reply, idInPath(request, "order", "orderId"), null, 200),
  );

  app.post("/packing/:orderId/lines/:lineId/pieces", everyone, async (request, reply) => {
    const place = await lineIn(request);
    const form = readForm(packForm, request.body);
    if (!form.ok) return showMistakes(request, reply, place, form.refusal);
    return act(request, reply, place, (transaction, actor) =>
      packPieces(transaction, actor, { orderLineId: place.lineId, ...form.value }),
    );
  });

  app.post("/packing/:orderId/lines/:lineId/lots/:lotId/unpacking", everyone, async (request, reply) => {
    const lotId = idInPath(request, "lot", "lotId");
    const place = { ...(await lineIn(request)), lotId };
    const form = readForm(unpackForm, request.body);
    if (!form.ok) return showMistakes(request, reply, place, form.refusal);
    const input = { orderLineId: place.lineId, lotId, units: form.value.units };
    return act(request, reply, place, (transaction, actor) => unpackPieces(transaction, actor, input));
  });

  app.post("/packing/:orderId/completion", everyone, async (request, reply) => {
    const orderId = idInPath(request, "order", "orderId");
    const place = { orderId, part: null, lineId: null, lotId: null };
    const form = readForm(completionForm, request.body);
    if (!form.ok) return showMistakes(request, reply, place, form.refusal);
    const input = { orderId, leavesShort: form.value.leaves_short };
    return act(request, reply, place, (transaction, actor) => markPacked(transaction, actor, input));
  });

  app.post("/packing/:orderId/scans", everyone, async (request, reply) => {
    const orderId = idInPath(request, "order", "orderId");
    const place = { orderId, part: "scan", lineId: null, lotId: null } as const;
    const form = readForm(scanForm, request.body);
    if (!form.ok) return showMistakes(request, reply, place, form.refusal);
    const scanned = { orderId, ...form.value };
    return act(request, reply, place, (transaction, actor) => packScanned(transaction, actor, scanned));
  });

  app.post("/packing/:orderId/notes", everyone, async (request, reply) => {
    const orderId = idInPath(request, "order", "orderId");
    const place = { orderId, part: "note", lineId: null, lotId: null } as const;
    const form = readForm(noteForm, request.body);
    if (!form.ok) return showMistakes(request, reply, place, form.refusal);
    const note = { orderId, words: form.value.note };
    return act(request, reply, place, (transaction, actor) => writePackingNote(transaction, actor, note));
  });

  app.post("/packing/:orderId/notes/:noteId/removal", everyone, async (request, reply) => {
    const orderId = idInPath(request, "order", "orderId");
    const note = { orderId, noteId: idInPath(request, "note", "noteId") };
    const place = { orderId, part: "note", lineId: null, lotId: null } as const;
    return act(request, reply, place, (transaction, actor) => dropPackingNote(transaction, actor, note));
  });

  async function act(
    request: FastifyRequest,
    reply: FastifyReply,
    place: PlaceOnPage,
    command: PackingCommand,
  ) {
    const at = clock.now();
    const acted = await actOnce(
      db,
      request,
      at,
      (transaction) => command(transaction, actorOf(request, at)),
      // Where there is no script, the next lot can be scanned at once too.
      ({ orderId }) => `/packing/${orderId}${place.part === "scan" ? "?next=scan" : ""}`,
    );
    return answerWith(request, reply, place, acted);
  }

  async function lineIn(request: FastifyRequest) {
    const orderId = idInPath(request, "order", "orderId");
    const lineId = idInPath(request, "line", "lineId");
    if (!(await hasLine(db, orderId, lineId))) throw notFound("line");
    return { orderId, part: null, lineId, lotId: null };
  }

  async function answerWith(
    request: FastifyRequest,
    reply: FastifyReply,
    place: PlaceOnPage,
    outcome: Result<string, PackingRefusal>,
  ) {
    if (outcome.ok) return reply.redirect(outcome.value, 303);
    const { refusal } = outcome;
    if (refusal.why === "no-such-order") throw notFound("order");
    const field = place.part === "scan" ? "scanned" : "";
    const answer = withMistake(freshForm(asTyped(request.body)), field, packingRefusalWords(refusal));
    return showOrder(request, reply, place.orderId, { ...place, answer }, isClash(refusal) ? 409 : 422);
  }

  function showMistakes(
    request: FastifyRequest,
    reply: FastifyReply,
    { orderId, ...form }: PlaceOnPage,
    answer: FormAnswer,
  ) {
    return showOrder(request, reply, orderId, { ...form, answer }, 422);
  }

  async function showOrder(
    request: FastifyRequest,
    reply: FastifyReply,
    orderId: number,
    answer: PackingAnswer | null,
    status: number,
  ) {
    const order = await findOrderToPack(db, orderId);
    if (!order) throw notFound("order");
    const { timeZone } = workshopOf(request);
    const scansNext = fieldOf(request.query, "next") === "scan" || answer?.part === "scan";
    const today = dateOf(clock.now(), timeZone);
    const boxes = await suggestOrderBoxes(db, orderId, today);
    const props = { order, boxes, answer, scansNext, today, timeZone };
    const head = { title: `Pack ${order.reference}`, place: "Packing", news: "packing", status } as const;
    return render(request, reply, PackOrderPage, props, head);
  }
}
