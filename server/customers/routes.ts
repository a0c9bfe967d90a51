import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm, typedText } from "../../views/components/formAnswer.ts";
import { CustomerPage } from "../../views/setup/CustomerPage.tsx";
import { CustomersPage } from "../../views/setup/CustomersPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { addCustomer } from "./addCustomer.ts";
import { type CustomerRefusal, changeCustomer } from "./changeCustomer.ts";
import { customerForm } from "./forms.ts";
import { countCustomers, findCustomer, listCustomers, listTermChoices } from "./queries.ts";
import { bringBackCustomer, retireCustomer } from "./retireCustomer.ts";
import { typedCustomer } from "./typedCustomer.ts";

/** The shops and markets the maker makes for. */
export async function customerRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get("/setup/customers", async (request, reply) => {
    const search = searchIn(request.query);
    const props = { counts: await countCustomers(db), ...(await listCustomers(db, search)), search };
    return render(request, reply, CustomersPage, props, { title: "Customers", place: "Setup" });
  });

  app.get("/setup/customers/new", (request, reply) =>
    showNew(request, reply, freshForm({ kind: "shop", priorityWeight: "1" }), 200),
  );

  app.post("/setup/customers", async (request, reply) =>
    takeForm(parts, request, reply, {
      schema: customerForm(await readCurrency(db)),
      command: addCustomer,
      whereTo: () => "/setup/customers",
      mistakeFor,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  app.get("/setup/customers/:id", (request, reply) => showCustomer(request, reply, null, 200));

  app.post("/setup/customers/:id", async (request, reply) => {
    const customerId = idInPath(request, "customer");
    return takeForm(parts, request, reply, {
      schema: customerForm(await readCurrency(db)),
      command: (transaction, actor, facts) => changeCustomer(transaction, actor, { ...facts, customerId }),
      whereTo: () => "/setup/customers",
      mistakeFor,
      showAgain: (answer, status) => showCustomer(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/customers/:id/retirement", command: retireCustomer },
    { path: "/setup/customers/:id/return", command: bringBackCustomer },
  ]) {
    app.post(path, (request, reply) => {
      const customerId = idInPath(request, "customer");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { customerId }),
        whereTo: () => "/setup/customers",
        mistakeFor,
        showAgain: (answer, status) => showCustomer(request, reply, answer, status),
      });
    });
  }

  /** The customer as it is, or with what was typed. */
  async function showCustomer(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const customer = await findCustomer(db, idInPath(request, "customer"));
    if (!customer) throw notFound("customer");
    const currency = await readCurrency(db);
    const choices = await listTermChoices(db, customer);
    const typed = answer ?? freshForm(typedCustomer({ ...customer, currency }, choices.shapes));
    const props = { customer, answer: typed, choices, currency };
    return render(request, reply, CustomerPage, props, { title: customer.name, place: "Setup", status });
  }

  async function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const choices = await listTermChoices(db, { taxGroupId: null, priceListId: null });
    const props = { customer: null, answer, choices, currency: await readCurrency(db) };
    return render(request, reply, CustomerPage, props, { title: "New customer", place: "Setup", status });
  }
}

/** What stands after `?q=`; a text too long for a name finds nobody, so its end is not needed. */
function searchIn(query: unknown): string {
  return typedText(freshForm(asTyped(query)), "q")
    .replaceAll("\u0000", "")
    .trim()
    .slice(0, 120);
}

function mistakeFor(refusal: CustomerRefusal): Mistake {
  switch (refusal) {
    case "not-found":
      throw notFound("customer");
    case "name-taken":
      return { field: "name", sentence: "Another customer has this name: tell the two apart." };
    case "kind-fixed":
      return {
        field: "kind",
        sentence: "It has orders already and stays what it was: add the other as a customer of its own.",
      };
    case "currency-changed":
      return {
        field: "",
        sentence: "The workshop's currency has changed: look at the amounts again.",
        status: 409,
      };
    case "tax-group-unknown":
      return { field: "taxGroup", sentence: "Choose a tax group that is in use." };
    case "price-list-unknown":
      return { field: "priceList", sentence: "Choose a price list that is in use." };
    case "shape-unknown":
      return { field: "casePacks", sentence: "One of the shapes is not there: reload the page." };
  }
}
