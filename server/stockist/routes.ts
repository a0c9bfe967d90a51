import type { FastifyInstance, FastifyReply, FastifyRequest, RouteShorthandOptions } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { ClosedPage } from "../../views/stockist/ClosedPage.tsx";
import { Reckoning, type ReckoningProps, WhenWords } from "../../views/stockist/Reckoning.tsx";
import { ShopOrderPage } from "../../views/stockist/ShopOrderPage.tsx";
import { ShopPage } from "../../views/stockist/ShopPage.tsx";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { asTyped, fieldOf } from "../http/formFields.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { PromiseDesk } from "../plans/promiseDesk.ts";
import { findLink, type OpenLink } from "./findLink.ts";
import { type PiecesBeingTyped, readPiecesBeingTyped, shopOrderForm } from "./forms.ts";
import { filledInFrom, sameAgain } from "./orderAgain.ts";
import { reckonShopOrder } from "./reckonShopOrder.ts";
import { type SendRefusal, sendShopOrder } from "./sendShopOrder.ts";
import { sendWords } from "./sentences.ts";
import { findShopOrder, listShopOrders, type ShownShopOrder } from "./shopOrders.ts";
import { promiseForShop } from "./shopPromise.ts";
import { readShopRange, type ShopRange } from "./shopRange.ts";

/** Enough to look around and to correct oneself; too little to try addresses or to bury the workshop. */
const LOOKING = { max: 120, timeWindow: "5 minutes" };
const SENDING = { max: 30, timeWindow: "5 minutes" };
/** Each pause in the typing asks once. */
const TYPING = { max: 300, timeWindow: "5 minutes" };

/** Pages for shops, without sign-in: whoever has the address of one may see and send what is that shop's. */
export async function stockistRoutes(
  app: FastifyInstance,
  { db, clock, planner, seals }: FeatureParts,
): Promise<void> {
  const desk = new PromiseDesk(planner);
  app.addHook("onRequest", async (_request, reply) => {
    // Neither kept, nor told to another site, nor found by a search.
    reply.headers({
      "Cache-Control": "no-store",
      "Referrer-Policy": "no-referrer",
      "X-Robots-Tag": "noindex, nofollow",
    });
  });

  app.get("/stockist/:secret", open(LOOKING), async (request, reply) => {
    const link = await linkOf(request);
    if (!link) return closed(request, reply);
    const again = fieldOf(request.query, "again");
    const order =
      typeof again === "string"
        ? await findShopOrder(db, link.customerId, again, todayFor(request))
        : undefined;
    return showShop(request, reply, link, order ? sameAgain(order) : freshForm(), 200, {
      again: order ?? null,
    });
  });

  app.post("/stockist/:secret", open(SENDING), async (request, reply) => {
    const link = await linkOf(request);
    if (!link) return closed(request, reply);
    if (fieldOf(request.body, "do") === "reckon")
      return showShop(request, reply, link, freshForm(asTyped(request.body)), 200, { withPromise: true });
    return send(request, reply, link);
  });

  app.post("/stockist/:secret/reckoning", open(TYPING), async (request, reply) => {
    const link = await linkOf(request);
    if (!link) return closed(request, reply);
    const range = await readShopRange(db, link.customerId, todayFor(request));
    const typed = readPiecesBeingTyped(request.body);
    const props = await reckoningOf(request, link, range, typed);
    return render(request, reply, Reckoning, props, { title: link.shop });
  });

  app.post("/stockist/:secret/promise", open(TYPING), async (request, reply) => {
    const link = await linkOf(request);
    if (!link) return closed(request, reply);
    const promise = await promiseOf(request, reply, link);
    return render(request, reply, WhenWords, { promise }, { title: link.shop });
  });

  app.get("/stockist/:secret/orders/:reference", open(LOOKING), async (request, reply) => {
    const link = await linkOf(request);
    if (!link) return closed(request, reply);
    const order = await findShopOrder(db, link.customerId, partOf(request, "reference"), todayFor(request));
    if (!order) return closed(request, reply);
    return render(request, reply, ShopOrderPage, { base: baseOf(request), order }, { title: order.knownAs });
  });

  async function send(request: FastifyRequest, reply: FastifyReply, link: OpenLink) {
    const form = readForm(shopOrderForm, request.body);
    if (!form.ok) return showShop(request, reply, link, form.refusal, 422);
    const at = clock.now();
    const today = todayFor(request);
    const sent = await actOnce(
      db,
      request,
      at,
      (transaction) => sendShopOrder(transaction, { at, today }, link, form.value),
      // Without the secret: where a form led is kept.
      ({ shopReference }) => shopReference,
    );
    if (sent.ok) return reply.redirect(`${baseOf(request)}/orders/${sent.value}`, 303);
    if (sent.refusal.why === "closed") return closed(request, reply);
    return showShop(request, reply, link, await answerTo(request, link, sent.refusal), 422);
  }

  async function answerTo(
    request: FastifyRequest,
    link: OpenLink,
    refusal: Exclude<SendRefusal, { readonly why: "closed" }>,
  ): Promise<FormAnswer> {
    const { currency } = await readShopRange(db, link.customerId, todayFor(request));
    return sendWords(refusal, currency).reduce(
      (answer, { field, sentence }) => withMistake(answer, field, sentence),
      freshForm(asTyped(request.body)),
    );
  }

  async function showShop(
    request: FastifyRequest,
    reply: FastifyReply,
    link: OpenLink,
    answer: FormAnswer,
    status: number,
    {
      withPromise = false,
      again = null,
    }: { readonly withPromise?: boolean; readonly again?: ShownShopOrder | null } = {},
  ) {
    const range = await readShopRange(db, link.customerId, todayFor(request));
    const props = {
      ...{ base: baseOf(request), shop: link.shop, range, answer },
      again: again && filledInFrom(again, range),
      reckoning: await reckoningOf(request, link, range, readPiecesBeingTyped(answer.typed)),
      promise: withPromise ? await promiseOf(request, reply, link) : null,
      orders: await listShopOrders(db, link.customerId),
    };
    return render(request, reply, ShopPage, props, { title: link.shop, status });
  }

  async function reckoningOf(
    request: FastifyRequest,
    link: OpenLink,
    range: ShopRange,
    { lines, neededBy }: PiecesBeingTyped,
  ): Promise<ReckoningProps> {
    const today = todayFor(request);
    const asked = { today, shipBy: neededBy ?? today, lines };
    const shop = { customerId: link.customerId, range };
    return {
      reckoned: lines.length === 0 ? null : await reckonShopOrder(db, shop, asked),
      currency: range.currency,
      names: new Map(range.products.map(({ id, name }) => [id, name])),
    };
  }

  async function promiseOf(request: FastifyRequest, reply: FastifyReply, { customerId }: OpenLink) {
    const typed = readPiecesBeingTyped(request.body);
    if (typed.lines.length === 0) return null;
    const gone = new AbortController();
    reply.raw.once("close", () => {
      if (!reply.raw.writableEnded) gone.abort();
    });
    const form = String(fieldOf(request.body, "form_token"));
    return promiseForShop({ db, desk, seals }, clock.now(), { ...typed, form, customerId }, gone.signal);
  }

  async function linkOf(request: FastifyRequest): Promise<OpenLink | undefined> {
    // Before there is a workshop there is no shop either.
    return request.workshop ? await findLink(db, partOf(request, "secret")) : undefined;
  }

  function todayFor(request: FastifyRequest): string {
    return dateOf(clock.now(), workshopOf(request).timeZone);
  }
}

/** For anybody, so often from one address; the log does not learn the secret. */
function open(rateLimit: { readonly max: number; readonly timeWindow: string }): RouteShorthandOptions {
  return {
    config: { access: "public", frame: "bare", rateLimit },
    logSerializers: {
      req: ({ method, ip }: FastifyRequest) => ({ method, url: "/stockist/…", remoteAddress: ip }),
    },
  };
}

/** One answer for every address that leads nowhere, whether it never did or no longer does. */
function closed(request: FastifyRequest, reply: FastifyReply): FastifyReply {
  return render(request, reply, ClosedPage, {}, { title: "No order page", status: 404 });
}

function baseOf(request: FastifyRequest): string {
  return `/stockist/${encodeURIComponent(partOf(request, "secret"))}`;
}

function partOf(request: FastifyRequest, name: "secret" | "reference"): string {
  const part = (request.params as Readonly<Record<string, unknown>>)[name];
  return typeof part === "string" ? part : "";
}
