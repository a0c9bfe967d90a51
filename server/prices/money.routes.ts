import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { plainShare } from "../../views/format/money.ts";
import { CasesPage } from "../../views/setup/CasesPage.tsx";
import { CostsPage } from "../../views/setup/CostsPage.tsx";
import { MoneyPage } from "../../views/setup/MoneyPage.tsx";
import type { FeatureParts } from "../app.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { currencyCodes } from "../money/currencies.ts";
import { changeMoney, hasAmounts, type MoneyChangeRefusal, readMoney } from "./changeMoney.ts";
import { costsForm, type MoneySettings, moneyForm, usualCasesForm } from "./forms.ts";
import { priceMistake } from "./priceLists.routes.ts";
import { listMakingCosts, listTaxGroups } from "./queries.ts";
import { readCurrency } from "./readCurrency.ts";
import { listUsualCases, setUsualCases } from "./setUsualCases.ts";
import { setMakingCosts } from "./writePrices.ts";

/** How money is counted, what making a piece costs, and in what cases things are sold. */
export async function moneyRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;

  app.get("/setup/money", async (request, reply) =>
    showMoney(request, reply, freshForm(typedMoney(await readMoney(db))), 200),
  );

  app.post("/setup/money", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: moneyForm,
      command: changeMoney,
      whereTo: () => "/setup/money",
      mistakeFor: moneyMistake,
      showAgain: (answer, status) => showMoney(request, reply, answer, status),
    }),
  );

  app.get("/setup/costs", (request, reply) => showCosts(request, reply, freshForm(), 200));

  app.post("/setup/costs", async (request, reply) =>
    takeForm(parts, request, reply, {
      schema: costsForm(await readCurrency(db)),
      command: setMakingCosts,
      whereTo: () => "/setup/costs",
      mistakeFor: (refusal) => priceMistake(refusal, "price list"),
      showAgain: (answer, status) => showCosts(request, reply, answer, status),
    }),
  );

  app.get("/setup/cases", (request, reply) => showCases(request, reply, null, 200));

  app.post("/setup/cases", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: usualCasesForm,
      command: setUsualCases,
      whereTo: () => "/setup/cases",
      mistakeFor: () => ({ field: "", sentence: "One of the shapes is not there: reload the page." }),
      showAgain: (answer, status) => showCases(request, reply, answer, status),
    }),
  );

  async function showMoney(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    const props = {
      settings: await readMoney(db),
      currencyIsFixed: await hasAmounts(db),
      currencies: currencyCodes,
      taxGroups: await listTaxGroups(db, today),
      answer,
    };
    return render(request, reply, MoneyPage, props, { title: "Money", place: "Setup", status });
  }

  async function showCosts(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const settings = await readMoney(db);
    const props = { settings, products: await listMakingCosts(db), answer };
    return render(request, reply, CostsPage, props, { title: "Making costs", place: "Setup", status });
  }

  async function showCases(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const cases = await listUsualCases(db);
    const typed = freshForm({
      caseShape: cases.map(({ id }) => String(id)),
      caseUnits: cases.map(({ units }) => (units === null ? "" : String(units))),
    });
    const props = { cases, answer: answer ?? typed };
    return render(request, reply, CasesPage, props, { title: "Cases", place: "Setup", status });
  }
}

function typedMoney(settings: MoneySettings): FormAnswer["typed"] {
  return {
    currency: settings.currency,
    rounding: settings.rounding,
    usualTaxGroup: settings.usualTaxGroupId === null ? "" : String(settings.usualTaxGroupId),
    makingCost: plainShare(settings.makingCostBasisPoints),
    leftoverLoss: plainShare(settings.leftoverLossBasisPoints),
  };
}

function moneyMistake(refusal: MoneyChangeRefusal): Mistake {
  return refusal === "currency-in-use"
    ? {
        field: "currency",
        sentence:
          "There are amounts in the currency already: they would become other money. It stays as it is.",
        status: 409,
      }
    : { field: "usualTaxGroup", sentence: "Choose a tax group that is in use." };
}
