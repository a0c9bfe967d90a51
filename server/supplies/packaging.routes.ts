import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { PackagingListPage } from "../../views/setup/PackagingListPage.tsx";
import { PackagingPage } from "../../views/setup/PackagingPage.tsx";
import { PackingListPage } from "../../views/setup/PackingListPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { findProduct } from "../products/queries.ts";
import { typedStock } from "./ingredients.routes.ts";
import { packagingForm, packingListForm } from "./packagingForms.ts";
import { findPackaging, listPackaging, listPackagingChoices, readPackingList } from "./packagingQueries.ts";
import { bringBackSupply, retireSupply } from "./writeIngredient.ts";
import { addPackaging, changePackaging, type PackagingRefusal, setPackingList } from "./writePackaging.ts";

/** What pieces are packed with, and how many of each product's pieces share it. */
export async function packagingRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get("/setup/packaging", async (request, reply) => {
    const props = { packaging: await listPackaging(db) };
    return render(request, reply, PackagingListPage, props, { title: "Packaging", place: "Setup" });
  });

  app.get("/setup/packaging/new", (request, reply) => showNew(request, reply, freshForm(), 200));

  app.post("/setup/packaging", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: packagingForm,
      command: addPackaging,
      whereTo: () => "/setup/packaging",
      mistakeFor: nameMistake,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  app.get("/setup/packaging/:id", (request, reply) => showPackaging(request, reply, null, 200));

  app.post("/setup/packaging/:id", (request, reply) => {
    const supplyId = idInPath(request, "packaging");
    return takeForm(parts, request, reply, {
      schema: packagingForm,
      command: (transaction, actor, facts) => changePackaging(transaction, actor, { ...facts, supplyId }),
      whereTo: () => "/setup/packaging",
      mistakeFor: nameMistake,
      showAgain: (answer, status) => showPackaging(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/packaging/:id/retirement", command: retireSupply },
    { path: "/setup/packaging/:id/return", command: bringBackSupply },
  ]) {
    app.post(path, (request, reply) => {
      const supplyId = idInPath(request, "packaging");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { supplyId }),
        whereTo: () => "/setup/packaging",
        mistakeFor: nameMistake,
        showAgain: (answer, status) => showPackaging(request, reply, answer, status),
      });
    });
  }

  app.get("/setup/products/:id/packing", (request, reply) => showPackingList(request, reply, null, 200));

  app.post("/setup/products/:id/packing", (request, reply) => {
    const productId = idInPath(request, "product");
    return takeForm(parts, request, reply, {
      schema: packingListForm,
      command: (transaction, actor, { packing }) =>
        setPackingList(transaction, actor, { productId, packing }),
      whereTo: () => `/setup/products/${productId}`,
      mistakeFor: (refusal): Mistake => {
        if (refusal.kind === "not-found") throw notFound("product");
        return {
          field: `packing.${refusal.place}.supply`,
          sentence: "This is not in use any more: choose something else, or bring it back.",
        };
      },
      showAgain: (answer, status) => showPackingList(request, reply, answer, status),
    });
  });

  async function showPackaging(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const packaging = await findPackaging(db, idInPath(request, "packaging"));
    if (!packaging) throw notFound("packaging");
    const { name, kind, statement } = packaging;
    const known = { name, kind, statement, ...typedStock(packaging, 1) };
    const props = { packaging, answer: answer ?? freshForm(known) };
    return render(request, reply, PackagingPage, props, { title: name, place: "Setup", status });
  }

  async function showPackingList(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const product = await findProduct(db, idInPath(request, "product"));
    if (!product) throw notFound("product");
    const list = await readPackingList(db, product.id);
    const known = {
      packedWith: list.map(({ supplyId }) => String(supplyId)),
      packedAmount: list.map(({ amount }) => String(amount)),
      packedFor: list.map(({ forPieces }) => String(forPieces)),
    };
    const props = { product, choices: await listPackagingChoices(db), answer: answer ?? freshForm(known) };
    const title = `Packing list of ${product.name}`;
    return render(request, reply, PackingListPage, props, { title, place: "Setup", status });
  }
}

function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  const props = { packaging: null, answer };
  return render(request, reply, PackagingPage, props, { title: "New packaging", place: "Setup", status });
}

function nameMistake(refusal: PackagingRefusal): Mistake {
  if (refusal === "not-found") throw notFound("packaging");
  return { field: "name", sentence: "Another supply has this name: tell the two apart." };
}
