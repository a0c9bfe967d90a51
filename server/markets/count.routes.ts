import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { CountPage } from "../../views/markets/CountPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { countMarket } from "./countMarket.ts";
import { type CountedRow, countForm } from "./forms.ts";
import { findMarket, findMarketOfOrder } from "./queries.ts";
import { countMistake } from "./refusals.ts";
import { showCount } from "./shown.ts";

const everyone = { config: { access: "everyone" } } as const;

/** Counting what came home: whoever unpacks the crate does it, so it is everybody's and shows no money. */
export async function marketCountRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;

  // From an order or a delivery to its market: the owner to all of it, a helper to what she can do there.
  app.get("/markets/of-order/:orderId", everyone, async (request, reply) => {
    const market = await findMarketOfOrder(db, idInPath(request, "order", "orderId"));
    const isOwner = request.person?.role === "owner";
    if (market) return reply.redirect(`/markets/${market.id}${isOwner ? "" : "/count"}`, 303);
    if (isOwner) return reply.redirect("/markets", 303);
    throw notFound("market");
  });

  app.get("/markets/:id/count", everyone, (request, reply) => showForm(request, reply, null, 200));

  app.get("/markets/:id/counted", everyone, (request, reply) => showForm(request, reply, null, 200, true));

  app.post("/markets/:id/count", everyone, async (request, reply) => {
    const marketId = idInPath(request, "market");
    let sent: readonly CountedRow[] = [];
    return takeForm(parts, request, reply, {
      schema: countForm,
      command: (transaction, actor, form) => {
        sent = form.rows;
        return countMarket(transaction, actor, { ...form, marketId });
      },
      whereTo: () => `/markets/${marketId}/counted`,
      mistakeFor: (refusal) => {
        if (refusal.why === "no-such-market") throw notFound("market");
        return countMistake(refusal, sent);
      },
      showAgain: (answer, status) => showForm(request, reply, answer, status),
    });
  });

  async function showForm(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
    done = false,
  ) {
    const market = await findMarket(db, idInPath(request, "market"));
    if (!market) throw notFound("market");
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    // A clash shows what stands now; what was typed beside it would be written over the other's count.
    const tried = status === 409 ? freshForm() : answer;
    const props = {
      ...(await showCount(db, market, { today, answer: tried })),
      trouble: answer?.mistakes[""] ?? null,
      justCounted: done && market.countedAt !== null,
    };
    const head = { title: `What came home from ${market.customer}`, place: "Shelf", status } as const;
    return render(request, reply, CountPage, props, head);
  }
}
