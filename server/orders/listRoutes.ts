import { Readable } from "node:stream";
import type { FastifyInstance } from "fastify";
import { dateOf } from "../../views/format/dates.ts";
import { OrdersPage } from "../../views/orders/OrdersPage.tsx";
import type { FeatureParts } from "../app.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { makeDueDrafts } from "../standing/makeDueDrafts.ts";
import { exportOrders } from "./exportOrders.ts";
import { readFilter } from "./filter.ts";
import { showList } from "./shown.ts";

/** The list of orders, narrowed by its address, on the page and as a file. */
export async function listRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/orders", async (request, reply) => {
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    await makeDueDrafts(db, clock.now(), today);
    const list = await showList(db, readFilter(request.query), today, request.query);
    return render(request, reply, OrdersPage, list, { title: "Orders", place: "Orders" });
  });

  app.get("/orders/list.csv", (request, reply) => {
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    const file = Readable.from(exportOrders(db, readFilter(request.query), today));
    return reply
      .header("Content-Disposition", `attachment; filename="orders-${today}.csv"`)
      .header("Cache-Control", "no-store")
      .type("text/csv; charset=utf-8; header=present")
      .send(file);
  });
}
