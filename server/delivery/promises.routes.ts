import type { FastifyInstance, FastifyRequest } from "fastify";
import { KeptPromisesPage } from "../../views/delivery/KeptPromisesPage.tsx";
import { dateOf, monthsBefore } from "../../views/format/dates.ts";
import type { FeatureParts } from "../app.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { keptFile } from "./keptFile.ts";
import { keptReport } from "./keptReport.ts";
import { listKeptOrders } from "./promiseQueries.ts";

/** Months the page shows, this one included. */
const MONTHS = 12;

/** How the shop keeps its promises: by month and customer, and every order behind it as a file. */
export async function promiseRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/delivery/promises", async (request, reply) => {
    const day = dayOf(request);
    const orders = await listKeptOrders(db, day);
    const props = { report: keptReport(orders, monthsBefore(day.today, MONTHS)) };
    return render(request, reply, KeptPromisesPage, props, { title: "Kept promises", place: "Delivery" });
  });

  app.get("/delivery/promises.csv", async (request, reply) => {
    const day = dayOf(request);
    return reply
      .type("text/csv; charset=utf-8; header=present")
      .header("Content-Disposition", `attachment; filename="kept-promises-${day.today}.csv"`)
      .header("Cache-Control", "no-store")
      .send(keptFile(await listKeptOrders(db, day)));
  });

  function dayOf(request: FastifyRequest) {
    const { timeZone } = workshopOf(request);
    return { timeZone, today: dateOf(clock.now(), timeZone) };
  }
}
