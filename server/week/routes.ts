import type { FastifyInstance } from "fastify";
import { WeekPage } from "../../views/week/WeekPage.tsx";
import type { FeatureParts } from "../app.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { readWeek } from "./queries.ts";
import { weekNews } from "./weekNews.ts";

export async function weekRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/week", { config: { access: "everyone" } }, async (request, reply) => {
    const facts = await readWeek(db, clock.now(), workshopOf(request).timeZone);
    const props = { news: weekNews(facts), today: facts.today };
    return render(request, reply, WeekPage, props, { title: "Week", place: "Week" });
  });
}
