import type { FastifyInstance, FastifyReply } from "fastify";
import { freshForm, typedText } from "../../views/components/formAnswer.ts";
import { LotTracePage } from "../../views/trace/LotTracePage.tsx";
import { OrderTracePage } from "../../views/trace/OrderTracePage.tsx";
import { SupplyLotTracePage } from "../../views/trace/SupplyLotTracePage.tsx";
import { TracePage } from "../../views/trace/TracePage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { asTyped, fieldOf, idField } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { findOpenRecall } from "../recalls/queries.ts";
import { findTraceable } from "./queries.ts";
import { traceFile } from "./traceFile.ts";
import { traceLot, traceOrder, traceSupplyLot } from "./traces.ts";

/** Most characters of a code or number that is looked for. */
const MOST_SEARCH = 80;

/** Where every lot went and came from: the owner's, as it names customers and whom to call there. */
export async function traceRoutes(app: FastifyInstance, { db }: FeatureParts): Promise<void> {
  app.get("/trace", async (request, reply) => {
    const words = typedText(freshForm(asTyped(request.query)), "q")
      .replaceAll("\u0000", "")
      .trim()
      .slice(0, MOST_SEARCH);
    const props = { words, found: words === "" ? null : await findTraceable(db, words) };
    return render(request, reply, TracePage, props, { title: "Trace", place: "Supplies" });
  });

  app.get("/trace/supply-lots/:id", async (request, reply) => {
    const trace = await traceSupplyLot(db, idInPath(request, "lot"));
    if (!trace) throw notFound("lot");
    const recalled = (await findOpenRecall(db, { kind: "supply-lot", id: trace.lot.id })) !== undefined;
    const props = {
      trace,
      recalled,
      timeZone: workshopOf(request).timeZone,
      only: narrowedTo(request.query),
    };
    return render(request, reply, SupplyLotTracePage, props, { title: trace.lot.code, place: "Supplies" });
  });

  app.get("/trace/supply-lots/:id/orders.csv", async (request, reply) => {
    const trace = await traceSupplyLot(db, idInPath(request, "lot"));
    if (!trace) throw notFound("lot");
    return sendFile(
      reply,
      trace.lot.code,
      traceFile(trace.orders, trace.pieces, workshopOf(request).timeZone),
    );
  });

  app.get("/trace/lots/:id", async (request, reply) => {
    const trace = await traceLot(db, idInPath(request, "lot"));
    if (!trace) throw notFound("lot");
    const recalled = (await findOpenRecall(db, { kind: "lot", id: trace.lot.id })) !== undefined;
    const props = {
      trace,
      recalled,
      timeZone: workshopOf(request).timeZone,
      only: narrowedTo(request.query),
    };
    return render(request, reply, LotTracePage, props, { title: trace.lot.code, place: "Supplies" });
  });

  app.get("/trace/lots/:id/orders.csv", async (request, reply) => {
    const trace = await traceLot(db, idInPath(request, "lot"));
    if (!trace) throw notFound("lot");
    return sendFile(
      reply,
      trace.lot.code,
      traceFile(trace.orders, [trace.lot], workshopOf(request).timeZone),
    );
  });

  app.get("/trace/orders/:id", async (request, reply) => {
    const trace = await traceOrder(db, idInPath(request, "order"));
    if (!trace) throw notFound("order");
    const title = `Trace of ${trace.order.reference}`;
    return render(request, reply, OrderTracePage, { trace }, { title, place: "Supplies" });
  });
}

/** Whose rows are asked for, or which product's; what is no number asks for nobody's. */
function narrowedTo(query: unknown) {
  const numberOf = (name: string) => idField().safeParse(fieldOf(query, name)).data ?? null;
  return { customerId: numberOf("customer"), productId: numberOf("product") };
}

function sendFile(reply: FastifyReply, code: string, file: string): FastifyReply {
  return reply
    .type("text/csv; charset=utf-8; header=present")
    .header("Content-Disposition", `attachment; filename="trace-${code.toLowerCase()}.csv"`)
    .header("Cache-Control", "no-store")
    .send(file);
}
