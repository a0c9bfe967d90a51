import type { FastifyInstance } from "fastify";
import { dateOf } from "../../views/format/dates.ts";
import { EndangeredOrders, EndangeredPage } from "../../views/week/EndangeredOrders.tsx";
import { WeekPage } from "../../views/week/WeekPage.tsx";
import type { FeatureParts } from "../app.ts";
import { listStopped } from "../holds/queries.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { listUnfinishedRecalls } from "../recalls/queries.ts";
import { makeDueDrafts } from "../standing/makeDueDrafts.ts";
import { listWaitingDrafts } from "../stockist/waitingDrafts.ts";
import { PromiseWatch } from "./promiseWatch.ts";
import { readWeek } from "./queries.ts";
import { weekNews } from "./weekNews.ts";

export async function weekRoutes(app: FastifyInstance, { db, clock, planner }: FeatureParts): Promise<void> {
  const watch = new PromiseWatch(db, planner);

  app.get("/week", { config: { access: "everyone" } }, async (request, reply) => {
    const { timeZone } = workshopOf(request);
    await makeDueDrafts(db, clock.now(), dateOf(clock.now(), timeZone));
    const facts = await readWeek(db, clock.now(), timeZone);
    // Only the owner can say yes to a draft.
    const drafts = request.person?.role === "owner" ? await listWaitingDrafts(db) : [];
    const recalls = request.person?.role === "owner" ? await listUnfinishedRecalls(db) : [];
    // What a recall above it speaks of need not be said twice.
    const told = new Set<number | null>(recalls.map(({ id }) => id));
    const stopped = (await listStopped(db)).filter(({ stops }) =>
      stops.some((stop) => !told.has(stop.recallId)),
    );
    const props = { news: weekNews(facts), drafts, stopped, recalls, today: facts.today };
    return render(request, reply, WeekPage, props, { title: "Week", place: "Week" });
  });

  app.get("/week/promises", { config: { access: "everyone" } }, async (request, reply) => {
    const at = clock.now();
    const watched = await watch.look(at, dateOf(at, workshopOf(request).timeZone));
    const isPart = request.headers["hx-request"] === "true";
    const view = isPart ? EndangeredOrders : EndangeredPage;
    return render(request, reply, view, { watched }, { title: "Promises in danger", place: "Week" });
  });
}
