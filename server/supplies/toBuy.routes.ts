import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { ToBuyPage } from "../../views/supplies/ToBuyPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { listPurchases } from "./ledgerQueries.ts";
import { callOffPurchase, placeOrder } from "./placeOrder.ts";
import { shoppingCsv } from "./shoppingCsv.ts";
import { readToBuy } from "./toBuy.ts";
import { placeOrderForm } from "./toBuyForms.ts";

/** What to buy, by when, from whom; and what has been ordered. */
export async function toBuyRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  const todayFor = (request: FastifyRequest) => dateOf(clock.now(), workshopOf(request).timeZone);

  app.get("/supplies/to-buy", (request, reply) => showList(request, reply, freshForm(), 200));

  app.get("/supplies/to-buy.csv", async (request, reply) => {
    const today = todayFor(request);
    const csv = shoppingCsv(await readToBuy(db, today), await readCurrency(db));
    return reply
      .type("text/csv; charset=utf-8")
      .header("Content-Disposition", `attachment; filename="to-buy-${today}.csv"`)
      .header("Cache-Control", "no-store")
      .send(csv);
  });

  app.post("/supplies/to-buy/:supplierId/orders", (request, reply) => {
    const supplierId = idInPath(request, "supplier", "supplierId");
    return takeForm(parts, request, reply, {
      schema: placeOrderForm,
      command: (transaction, actor, { lines }) => placeOrder(transaction, actor, { supplierId, lines }),
      whereTo: () => "/supplies/to-buy",
      mistakeFor: (refusal): Mistake => {
        if (refusal === "not-found") throw notFound("supplier");
        return {
          field: "",
          sentence:
            "A pack of the list is not sold any more. Nothing was written down: look at the list as it is now.",
          status: 409,
        };
      },
      showAgain: (answer, status) =>
        showList(request, reply, { ...answer, typed: { ...answer.typed, of: String(supplierId) } }, status),
    });
  });

  app.post("/supplies/purchases/:purchaseId/calling-off", (request, reply) => {
    const purchaseId = idInPath(request, "purchase", "purchaseId");
    return takeForm(parts, request, reply, {
      schema: z.object({}),
      command: (transaction, actor) => callOffPurchase(transaction, actor, { purchaseId }),
      whereTo: () => "/supplies/to-buy",
      mistakeFor: (): Mistake => ({
        field: "",
        sentence: "It has come or was called off already.",
        status: 409,
      }),
      showAgain: (answer, status) => showList(request, reply, answer, status),
    });
  });

  async function showList(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const today = todayFor(request);
    const props = {
      toBuy: await readToBuy(db, today),
      purchases: await listPurchases(db),
      currency: await readCurrency(db),
      ...{ today, answer },
    };
    return render(request, reply, ToBuyPage, props, { title: "What to buy", place: "Supplies", status });
  }
}
