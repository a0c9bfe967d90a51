import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { CalendarPage } from "../../views/calendar/CalendarPage.tsx";
import type { FeatureParts } from "../app.ts";
import { ok } from "../basics/result.ts";
import { actOnce } from "../http/actOnce.ts";
import { render } from "../http/render.ts";
import { actorOf } from "../http/visitor.ts";
import { hashOfSecret, newLinkSecret } from "../stockist/linkSecret.ts";
import { findOpenFeed, makeFeed, opensFeed, withdrawFeed } from "./changeFeed.ts";
import { readContent } from "./readContent.ts";
import { writeCalendar } from "./writeCalendar.ts";

/** Enough for a household of phones that ask every quarter of an hour; too little to try addresses. */
const ASKING = { max: 120, timeWindow: "5 minutes" };
const ADDRESS = "/setup/calendar";

/** The workshop's dates for the calendars of phones, and its address as the owner makes, renews and withdraws it. */
export async function calendarRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get(ADDRESS, (request, reply) => showFeed(request, reply, { address: null, notice: null }));

  /** Answered by the page itself: the address is kept nowhere, so no other page could show it. */
  app.post(ADDRESS, async (request, reply) => {
    const secret = newLinkSecret();
    const at = clock.now();
    let madeNow = false;
    await actOnce(
      db,
      request,
      at,
      async (transaction) => {
        madeNow = true;
        return ok(await makeFeed(transaction, actorOf(request, at), { tokenHash: hashOfSecret(secret) }));
      },
      () => ADDRESS,
    );
    const shown = madeNow
      ? { address: `${request.protocol}://${request.host}/calendar/${secret}`, notice: null }
      : { address: null, notice: "The address was made already and was shown once. Renew it if it is lost." };
    return showFeed(request, reply, shown);
  });

  app.post(`${ADDRESS}/withdrawal`, async (request, reply) => {
    const at = clock.now();
    await actOnce(
      db,
      request,
      at,
      async (transaction) => ok(await withdrawFeed(transaction, actorOf(request, at))),
      () => ADDRESS,
    );
    return reply.redirect(ADDRESS, 303);
  });

  app.get(
    "/calendar/:secret",
    {
      config: { access: "public", frame: "bare", rateLimit: ASKING },
      // The log does not learn the secret.
      logSerializers: {
        req: ({ method, ip }: FastifyRequest) => ({ method, url: "/calendar/…", remoteAddress: ip }),
      },
    },
    async (request, reply) => {
      reply.headers({ "Cache-Control": "no-store", "X-Robots-Tag": "noindex, nofollow" });
      const { secret } = request.params as { readonly secret: string };
      // One answer for every address that leads nowhere, whether it never did or no longer does.
      if (request.workshop === null || !(await opensFeed(db, secret)))
        return reply.code(404).type("text/plain; charset=utf-8").send("There is no such calendar.\n");
      const now = clock.now();
      return reply
        .type("text/calendar; charset=utf-8")
        .header("Content-Disposition", 'inline; filename="halfmold.ics"')
        .send(writeCalendar(await readContent(db, now), now));
    },
  );

  async function showFeed(
    request: FastifyRequest,
    reply: FastifyReply,
    shown: { readonly address: string | null; readonly notice: string | null },
  ) {
    const props = { ...shown, feed: await findOpenFeed(db) };
    return render(request, reply, CalendarPage, props, { title: "Calendar for phones", place: "Setup" });
  }
}
