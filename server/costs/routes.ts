import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { PieceCostsPage } from "../../views/costs/PieceCostsPage.tsx";
import { dateOf } from "../../views/format/dates.ts";
import { plainMoney } from "../../views/format/money.ts";
import type { FeatureParts } from "../app.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { changeCosting } from "./changeCosting.ts";
import { costingForm } from "./forms.ts";
import { readCosts } from "./queries.ts";

/** What a piece costs and what each price leaves: for the owner. */
export async function costRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;

  app.get("/costs", (request, reply) => showCosts(request, reply, null, 200));

  app.post("/costs", async (request, reply) =>
    takeForm(parts, request, reply, {
      schema: costingForm(await readCurrency(db)),
      command: changeCosting,
      whereTo: () => "/costs",
      mistakeFor: (refusal) => refusal,
      showAgain: (answer, status) => showCosts(request, reply, answer, status),
    }),
  );

  async function showCosts(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const costs = await readCosts(db, dateOf(clock.now(), workshopOf(request).timeZone));
    const { supplyCost, hourMinor, currency } = costs.settings;
    const hour = hourMinor === null ? "" : plainMoney(hourMinor, currency);
    const props = { costs, answer: answer ?? freshForm({ supplyCost, hour }) };
    return render(request, reply, PieceCostsPage, props, {
      ...{ title: "What a piece costs", place: "Supplies" },
      status,
    });
  }
}
