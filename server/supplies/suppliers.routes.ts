import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { PacksPage } from "../../views/setup/PacksPage.tsx";
import { SupplierPage } from "../../views/setup/SupplierPage.tsx";
import { SuppliersPage } from "../../views/setup/SuppliersPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { findSupply, listPacks, listSupplierChoices } from "./ledgerQueries.ts";
import { amountSentence } from "./sentences.ts";
import { packForm, supplierForm, usualPackForm } from "./supplierForms.ts";
import { findSupplier, listSuppliers } from "./supplierQueries.ts";
import {
  addPack,
  addSupplier,
  bringBackSupplier,
  changeSupplier,
  makePackUsual,
  type PackRefusal,
  retirePack,
  retireSupplier,
  type SupplierRefusal,
} from "./writeSupplier.ts";

/** Who sells what the workshop needs, in what packs, and how long it takes. */
export async function supplierRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get("/setup/suppliers", async (request, reply) => {
    const props = { suppliers: await listSuppliers(db) };
    return render(request, reply, SuppliersPage, props, { title: "Suppliers", place: "Setup" });
  });

  app.get("/setup/suppliers/new", (request, reply) => showNew(request, reply, freshForm(), 200));

  app.post("/setup/suppliers", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: supplierForm,
      command: addSupplier,
      whereTo: () => "/setup/suppliers",
      mistakeFor: nameMistake,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  app.get("/setup/suppliers/:id", (request, reply) => showSupplier(request, reply, null, 200));

  app.post("/setup/suppliers/:id", (request, reply) => {
    const supplierId = idInPath(request, "supplier");
    return takeForm(parts, request, reply, {
      schema: supplierForm,
      command: (transaction, actor, facts) => changeSupplier(transaction, actor, { ...facts, supplierId }),
      whereTo: () => "/setup/suppliers",
      mistakeFor: nameMistake,
      showAgain: (answer, status) => showSupplier(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/suppliers/:id/retirement", command: retireSupplier },
    { path: "/setup/suppliers/:id/return", command: bringBackSupplier },
  ]) {
    app.post(path, (request, reply) => {
      const supplierId = idInPath(request, "supplier");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { supplierId }),
        whereTo: () => "/setup/suppliers",
        mistakeFor: nameMistake,
        showAgain: (answer, status) => showSupplier(request, reply, answer, status),
      });
    });
  }

  app.get("/setup/supplies/:id/packs", (request, reply) => showPacks(request, reply, freshForm(), 200));

  app.post("/setup/supplies/:id/packs", async (request, reply) => {
    const supplyId = idInPath(request, "supply");
    return takeForm(parts, request, reply, {
      schema: packForm(await readCurrency(db)),
      command: (transaction, actor, facts) => addPack(transaction, actor, { ...facts, supplyId }),
      whereTo: () => `/setup/supplies/${supplyId}/packs`,
      mistakeFor: packMistake,
      showAgain: (answer, status) => showPacks(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/supplies/:id/packs/usual", command: makePackUsual },
    { path: "/setup/supplies/:id/packs/retirement", command: retirePack },
  ]) {
    app.post(path, (request, reply) => {
      const supplyId = idInPath(request, "supply");
      return takeForm(parts, request, reply, {
        schema: usualPackForm,
        command: (transaction, actor, { pack }) => command(transaction, actor, { supplyId, packId: pack }),
        whereTo: () => `/setup/supplies/${supplyId}/packs`,
        mistakeFor: (): Mistake => ({
          field: "",
          sentence: "That pack is not in use any more: look at the packs as they are now.",
          status: 409,
        }),
        showAgain: ({ mistakes }, status) => showPacks(request, reply, { typed: {}, mistakes }, status),
      });
    });
  }

  async function showSupplier(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const supplier = await findSupplier(db, idInPath(request, "supplier"));
    if (!supplier) throw notFound("supplier");
    const { name, deliveryDays, orderWeekdays, contact } = supplier;
    const weekdays = orderWeekdays.map(String);
    const known = { name, contact, weekdays, deliveryDays: String(deliveryDays) };
    const props = { supplier, answer: answer ?? freshForm(known) };
    return render(request, reply, SupplierPage, props, { title: name, place: "Setup", status });
  }

  async function showPacks(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const supplyId = idInPath(request, "supply");
    const supply = await findSupply(db, supplyId);
    if (!supply) throw notFound("supply");
    const props = {
      supply,
      packs: await listPacks(db, supplyId),
      suppliers: await listSupplierChoices(db),
      currency: await readCurrency(db),
      answer,
    };
    const title = `Packs of ${supply.name}`;
    return render(request, reply, PacksPage, props, { title, place: "Setup", status });
  }
}

function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  const props = { supplier: null, answer };
  return render(request, reply, SupplierPage, props, { title: "New supplier", place: "Setup", status });
}

function nameMistake(refusal: SupplierRefusal): Mistake {
  if (refusal === "not-found") throw notFound("supplier");
  return { field: "name", sentence: "Another supplier has this name: tell the two apart." };
}

function packMistake(refusal: PackRefusal): Mistake {
  if (refusal === "not-found") throw notFound("supply");
  if (refusal === "supplier-unknown")
    return { field: "supplier", sentence: "Choose a supplier who is in use." };
  const field = refusal === "density-unknown" || refusal === "wrong-unit" ? "unit" : "content";
  return { field, sentence: amountSentence(refusal) };
}
