import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { ProductPage } from "../../views/setup/ProductPage.tsx";
import { ProductsPage } from "../../views/setup/ProductsPage.tsx";
import type { FeatureParts } from "../app.ts";
import { readCosts } from "../costs/queries.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { readPackingList } from "../supplies/packagingQueries.ts";
import { addProducts, type ProductRefusal } from "./addProduct.ts";
import { blendRoutes } from "./blends.routes.ts";
import { changeProduct } from "./changeProduct.ts";
import { newProductsForm, productForm } from "./forms.ts";
import { findProduct, readRange } from "./queries.ts";
import { bringBackProduct, retireProduct } from "./retireProduct.ts";

/** The range: blends, and the shapes each is pressed into. */
export async function productRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  await app.register(blendRoutes, parts);

  app.get("/setup/products", (request, reply) => showRange(request, reply, freshForm(), 200));

  app.post("/setup/products", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: newProductsForm,
      command: addProducts,
      whereTo: () => "/setup/products",
      mistakeFor: notInTheGrid,
      showAgain: (answer, status) => showRange(request, reply, answer, status),
    }),
  );

  app.get("/setup/products/:id", (request, reply) => showProduct(request, reply, null, 200));

  app.post("/setup/products/:id", (request, reply) => {
    const productId = idInPath(request, "product");
    return takeForm(parts, request, reply, {
      schema: productForm,
      command: (transaction, actor, { name }) => changeProduct(transaction, actor, { productId, name }),
      whereTo: () => "/setup/products",
      mistakeFor: staysAway,
      showAgain: (answer, status) => showProduct(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/products/:id/retirement", command: retireProduct },
    { path: "/setup/products/:id/return", command: bringBackProduct },
  ]) {
    app.post(path, (request, reply) => {
      const productId = idInPath(request, "product");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { productId }),
        whereTo: () => "/setup/products",
        mistakeFor: staysAway,
        // The button's form has no fields: the page shows the product as it is, with the sentence.
        showAgain: ({ mistakes }, status) => showProduct(request, reply, null, status, mistakes[""]),
      });
    });
  }

  async function showRange(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const props = { ...(await readRange(db)), answer };
    return render(request, reply, ProductsPage, props, { title: "Products", place: "Setup", status });
  }

  async function showProduct(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
    sentence?: string,
  ) {
    const product = await findProduct(db, idInPath(request, "product"));
    if (!product) throw notFound("product");
    const shown = answer ?? freshForm({ name: product.name });
    const packing = await readPackingList(db, product.id);
    const props = {
      product,
      packing,
      costs: await readCosts(db, dateOf(clock.now(), workshopOf(request).timeZone), product.id),
      answer: sentence === undefined ? shown : withMistake(shown, "", sentence),
    };
    return render(request, reply, ProductPage, props, { title: product.name, place: "Setup", status });
  }
}

function notInTheGrid(refusal: ProductRefusal): Mistake {
  const what = refusal === "no-such-blend" ? "blend" : "shape";
  return {
    field: "cells",
    sentence: `A ${what} you ticked has been retired meanwhile; nothing was taken into the range. Look at the grid as it is now.`,
    status: 409,
  };
}

function staysAway(refusal: "not-found" | "blend-retired" | "shape-retired"): Mistake {
  if (refusal === "not-found") throw notFound("product");
  const what = refusal === "blend-retired" ? "blend" : "shape";
  return { field: "", sentence: `Its ${what} is retired: bring the ${what} back first.`, status: 409 };
}
