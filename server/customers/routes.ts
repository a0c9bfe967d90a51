import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm, typedText } from "../../views/components/formAnswer.ts";
import { CustomerPage } from "../../views/setup/CustomerPage.tsx";
import { CustomersPage } from "../../views/setup/CustomersPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { asTyped } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { addCustomer } from "./addCustomer.ts";
import { type CustomerRefusal, changeCustomer } from "./changeCustomer.ts";
import { type CustomerFacts, customerForm } from "./forms.ts";
import { countCustomers, findCustomer, listCustomers } from "./queries.ts";
import { bringBackCustomer, retireCustomer } from "./retireCustomer.ts";

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

  app.post("/setup/customers", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: customerForm,
      command: addCustomer,
      whereTo: () => "/setup/customers",
      mistakeFor,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  app.get("/setup/customers/:id", (request, reply) => showCustomer(request, reply, null, 200));

  app.post("/setup/customers/:id", (request, reply) => {
    const customerId = idInPath(request, "customer");
    return takeForm(parts, request, reply, {
      schema: customerForm,
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
    const props = { customer, answer: answer ?? freshForm(typedCustomer(customer)) };
    return render(request, reply, CustomerPage, props, { title: customer.name, place: "Setup", status });
  }
}

/** What stands after `?q=`; a text too long for a name finds nobody, so its end is not needed. */
function searchIn(query: unknown): string {
  return typedText(freshForm(asTyped(query)), "q")
    .replaceAll("\u0000", "")
    .trim()
    .slice(0, 120);
}

function typedCustomer(facts: CustomerFacts): FormAnswer["typed"] {
  const { kind, takesPartDeliveries, priorityWeight, ...texts } = facts;
  return {
    name: texts.name,
    kind,
    takesPartDeliveries: takesPartDeliveries ? "yes" : "",
    priorityWeight: String(priorityWeight),
    contactName: texts.contactName,
    email: texts.email,
    phone: texts.phone,
    address: texts.address,
    notes: texts.notes,
  };
}

function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  const props = { customer: null, answer };
  return render(request, reply, CustomerPage, props, { title: "New customer", place: "Setup", status });
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
  }
}
