import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { plainShare } from "../../views/format/money.ts";
import { IngredientPage } from "../../views/setup/IngredientPage.tsx";
import { IngredientsPage } from "../../views/setup/IngredientsPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { allergenLines } from "./allergenLines.ts";
import { ingredientForm } from "./forms.ts";
import { findIngredient, listIngredients } from "./queries.ts";
import {
  addIngredient,
  bringBackSupply,
  changeIngredient,
  type IngredientRefusal,
  retireSupply,
} from "./writeIngredient.ts";

/** What goes into a bowl, with what its supplier states of it. */
export async function ingredientRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get("/setup/ingredients", async (request, reply) => {
    const ingredients = await listIngredients(db);
    return render(request, reply, IngredientsPage, { ingredients }, { title: "Ingredients", place: "Setup" });
  });

  app.get("/setup/ingredients/new", (request, reply) => showNew(request, reply, freshForm(), 200));

  app.post("/setup/ingredients", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: ingredientForm,
      command: addIngredient,
      whereTo: () => "/setup/ingredients",
      mistakeFor,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  app.get("/setup/ingredients/:id", (request, reply) => showIngredient(request, reply, null, 200));

  app.post("/setup/ingredients/:id", (request, reply) => {
    const supplyId = idInPath(request, "ingredient");
    return takeForm(parts, request, reply, {
      schema: ingredientForm,
      command: (transaction, actor, facts) => changeIngredient(transaction, actor, { ...facts, supplyId }),
      whereTo: () => "/setup/ingredients",
      mistakeFor,
      showAgain: (answer, status) => showIngredient(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/ingredients/:id/retirement", command: retireSupply },
    { path: "/setup/ingredients/:id/return", command: bringBackSupply },
  ]) {
    app.post(path, (request, reply) => {
      const supplyId = idInPath(request, "ingredient");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { supplyId }),
        whereTo: () => "/setup/ingredients",
        mistakeFor,
        showAgain: (answer, status) => showIngredient(request, reply, answer, status),
      });
    });
  }

  /** The ingredient as it is, or with what was typed. */
  async function showIngredient(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const ingredient = await findIngredient(db, idInPath(request, "ingredient"));
    if (!ingredient) throw notFound("ingredient");
    const props = { ingredient, answer: answer ?? freshForm(asKnown(ingredient)) };
    const head = { title: ingredient.name, place: "Setup", status } as const;
    return render(request, reply, IngredientPage, props, head);
  }
}

function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  const props = { ingredient: null, answer };
  return render(request, reply, IngredientPage, props, { title: "New ingredient", place: "Setup", status });
}

function asKnown(ingredient: NonNullable<Awaited<ReturnType<typeof findIngredient>>>): FormAnswer["typed"] {
  const { densityGramsPerLitre, evaporatesBasisPoints, limits, allergenSource } = ingredient;
  return {
    name: ingredient.name,
    kind: ingredient.kind,
    labelName: ingredient.labelName,
    density: densityGramsPerLitre === null ? "" : String(densityGramsPerLitre / 1000),
    densitySource: ingredient.densitySource,
    evaporates: evaporatesBasisPoints === 0 ? "" : plainShare(evaporatesBasisPoints),
    dusty: ingredient.dusty ? "yes" : "",
    flammable: ingredient.flammable ? "yes" : "",
    statement: ingredient.statement,
    limitCategory: limits.map(({ category }) => category),
    limitShare: limits.map(({ limitPpm }) => plainShare(limitPpm / 100)),
    limitSource: limits[0]?.source ?? "",
    allergens: allergenSource === "" ? "" : allergenLines(ingredient.allergens),
    allergenSource,
    ...typedStock(ingredient, 1000),
  };
}

/** How it is kept and bought, as it is typed. */
export function typedStock(
  supply: { readonly counted: boolean; readonly leastOnHand: number; readonly coverDays: number },
  scale: 1 | 1000,
): FormAnswer["typed"] {
  return {
    uncounted: supply.counted ? "" : "yes",
    leastOnHand: supply.leastOnHand === 0 ? "" : String(supply.leastOnHand / scale),
    coverDays: String(supply.coverDays),
  };
}

function mistakeFor(refusal: IngredientRefusal): Mistake {
  if (refusal === "not-found") throw notFound("ingredient");
  return { field: "name", sentence: "Another ingredient has this name: tell the two apart." };
}
