import type { FastifyInstance } from "fastify";
import { dateOf } from "../../views/format/dates.ts";
import { OrdersPage } from "../../views/orders/OrdersPage.tsx";
import type { FeatureParts } from "../app.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { readFilter } from "./filter.ts";
import { showList } from "./shown.ts";

/** The list of orders, narrowed by its address, on the page and as a file. */
export async function listRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/orders", async (request, reply) => {
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    const list = await showList(db, readFilter(request.query), today, request.query);
    return render(request, reply, OrdersPage, list, { title: "Orders", place: "Orders" });
  });
}
