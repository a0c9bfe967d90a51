import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { NewPriceListPage } from "../../views/setup/NewPriceListPage.tsx";
import { OwnPricesPage } from "../../views/setup/OwnPricesPage.tsx";
import { PriceListPage } from "../../views/setup/PriceListPage.tsx";
import { PriceListsPage } from "../../views/setup/PriceListsPage.tsx";
import type { FeatureParts } from "../app.ts";
import { findCustomer } from "../customers/queries.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import {
  addPriceList,
  bringBackPriceList,
  changePriceList,
  type PriceListRefusal,
  retirePriceList,
} from "./changePriceLists.ts";
import { newPriceListForm, priceListForm, pricesForm } from "./forms.ts";
import { findPriceList, listOwnPricesOn, listPriceLists, listPricesOn } from "./queries.ts";
import { readMoneyTerms } from "./quote.ts";
import { readCurrency } from "./readCurrency.ts";
import { type PriceRefusal, setListPrices, setOwnPrices } from "./writePrices.ts";

/** Lists of prices, and the prices of one customer alone. */
export async function priceListRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  const todayFor = (request: FastifyRequest) => dateOf(clock.now(), workshopOf(request).timeZone);

  app.get("/setup/prices", async (request, reply) => {
    const lists = await listPriceLists(db, todayFor(request));
    return render(request, reply, PriceListsPage, { lists }, { title: "Price lists", place: "Setup" });
  });

  app.get("/setup/prices/new", (request, reply) => {
    const usual = { kind: "wholesale", includesTax: "no", share: "100", validFrom: todayFor(request) };
    return showNew(request, reply, freshForm(usual), 200);
  });

  app.post("/setup/prices", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: newPriceListForm,
      command: addPriceList,
      whereTo: ({ priceListId }) => `/setup/prices/${priceListId}`,
      mistakeFor: listMistake,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  app.get("/setup/prices/:id", (request, reply) => showList(request, reply, {}, 200));

  app.post("/setup/prices/:id", (request, reply) => {
    const priceListId = idInPath(request, "price list");
    return takeForm(parts, request, reply, {
      schema: priceListForm,
      command: (transaction, actor, head) => changePriceList(transaction, actor, { ...head, priceListId }),
      whereTo: () => `/setup/prices/${priceListId}`,
      mistakeFor: listMistake,
      showAgain: (answer, status) => showList(request, reply, { headAnswer: answer }, status),
    });
  });

  app.post("/setup/prices/:id/prices", async (request, reply) => {
    const priceListId = idInPath(request, "price list");
    return takeForm(parts, request, reply, {
      schema: pricesForm(await readCurrency(db)),
      command: (transaction, actor, prices) => setListPrices(transaction, actor, { ...prices, priceListId }),
      whereTo: () => `/setup/prices/${priceListId}`,
      mistakeFor: (refusal) => priceMistake(refusal, "price list"),
      showAgain: (answer, status) => showList(request, reply, { answer }, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/prices/:id/retirement", command: retirePriceList },
    { path: "/setup/prices/:id/return", command: bringBackPriceList },
  ]) {
    app.post(path, (request, reply) => {
      const priceListId = idInPath(request, "price list");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { priceListId }),
        whereTo: () => "/setup/prices",
        mistakeFor: listMistake,
        showAgain: ({ mistakes }, status) => showList(request, reply, {}, status, mistakes[""]),
      });
    });
  }

  app.get("/setup/customers/:id/prices", (request, reply) => showOwn(request, reply, null, 200));

  app.post("/setup/customers/:id/prices", async (request, reply) => {
    const customerId = idInPath(request, "customer");
    return takeForm(parts, request, reply, {
      schema: pricesForm(await readCurrency(db)),
      command: (transaction, actor, prices) => setOwnPrices(transaction, actor, { ...prices, customerId }),
      whereTo: () => `/setup/customers/${customerId}/prices`,
      mistakeFor: (refusal) => priceMistake(refusal, "customer"),
      showAgain: (answer, status) => showOwn(request, reply, answer, status),
    });
  });

  async function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const props = { lists: await listPriceLists(db, todayFor(request)), answer };
    return render(request, reply, NewPriceListPage, props, {
      title: "New price list",
      place: "Setup",
      status,
    });
  }

  async function showList(
    request: FastifyRequest,
    reply: FastifyReply,
    { answer, headAnswer }: { readonly answer?: FormAnswer; readonly headAnswer?: FormAnswer },
    status: number,
    sentence?: string,
  ) {
    const list = await findPriceList(db, idInPath(request, "price list"));
    if (!list) throw notFound("price list");
    const today = todayFor(request);
    const head = headAnswer ?? freshForm({ name: list.name, usual: list.usual ? "yes" : "" });
    const props = {
      list,
      products: await listPricesOn(db, list.id, today),
      currency: await readCurrency(db),
      answer: answer ?? freshForm({ validFrom: today }),
      headAnswer: sentence === undefined ? head : withMistake(head, "", sentence),
    };
    return render(request, reply, PriceListPage, props, { title: list.name, place: "Setup", status });
  }

  async function showOwn(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const customer = await findCustomer(db, idInPath(request, "customer"));
    if (!customer) throw notFound("customer");
    const today = todayFor(request);
    const terms = await readMoneyTerms(db, customer.id, { shipBy: today });
    const props = {
      customer,
      pricesIncludeTax: terms?.pricesIncludeTax ?? false,
      products: await listOwnPricesOn(db, customer.id, today),
      currency: await readCurrency(db),
      answer: answer ?? freshForm({ validFrom: today }),
    };
    const title = `Prices of ${customer.name}`;
    return render(request, reply, OwnPricesPage, props, { title, place: "Setup", status });
  }
}

function listMistake(refusal: PriceListRefusal): Mistake {
  switch (refusal) {
    case "not-found":
      throw notFound("price list");
    case "name-taken":
      return { field: "name", sentence: "Another price list has this name: tell the two apart." };
    case "copy-unknown":
      return { field: "copyOf", sentence: "That list is not there: choose another, or none." };
    case "copy-too-dear":
      return { field: "share", sentence: "So much of these prices is more than a piece may cost." };
    case "usual-stays-in-use":
      return { field: "usual", sentence: "A retired list cannot be the usual one: bring it back first." };
    case "in-use":
      return {
        field: "",
        sentence: "Customers still buy from it, or it is the usual one: give those another list first.",
        status: 409,
      };
  }
}

/** What to say when a grid of prices cannot be kept; throws where the thing they belong to is not there. */
export function priceMistake(refusal: PriceRefusal, what: string): Mistake {
  switch (refusal) {
    case "not-found":
      throw notFound(what);
    case "currency-changed":
      return {
        field: "",
        sentence: "The workshop's currency has changed: look at the amounts again.",
        status: 409,
      };
    case "product-unknown":
      return {
        field: "",
        sentence: "One of the products is not in the range any more: reload the page.",
        status: 409,
      };
  }
}
