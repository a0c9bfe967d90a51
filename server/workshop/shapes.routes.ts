import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { ShapePage } from "../../views/setup/ShapePage.tsx";
import { ShapesPage } from "../../views/setup/ShapesPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { addShape } from "./addShape.ts";
import { changeShape } from "./changeShape.ts";
import { newShapeForm, shapeForm } from "./forms.ts";
import { findShape, listShapes } from "./queries.ts";
import { bringBackShape, retireShape } from "./retireShape.ts";
import { typedShape, usualShape } from "./typed.ts";

export async function shapeRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get("/setup/shapes", async (request, reply) => {
    const shapes = await listShapes(db);
    return render(request, reply, ShapesPage, { shapes }, { title: "Shapes", place: "Setup" });
  });

  app.get("/setup/shapes/new", (request, reply) =>
    showNew(request, reply, freshForm(typedShape({ ...usualShape, name: "" })), 200),
  );

  app.post("/setup/shapes", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: newShapeForm,
      command: addShape,
      whereTo: () => "/setup/shapes",
      mistakeFor,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  app.get("/setup/shapes/:id", async (request, reply) => showShape(request, reply, null, 200));

  app.post("/setup/shapes/:id", (request, reply) => {
    const shapeId = idInPath(request, "shape");
    return takeForm(parts, request, reply, {
      schema: shapeForm,
      command: (transaction, actor, numbers) => changeShape(transaction, actor, { ...numbers, shapeId }),
      whereTo: () => "/setup/shapes",
      mistakeFor,
      showAgain: (answer, status) => showShape(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/shapes/:id/retirement", command: retireShape },
    { path: "/setup/shapes/:id/return", command: bringBackShape },
  ]) {
    app.post(path, (request, reply) => {
      const shapeId = idInPath(request, "shape");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { shapeId }),
        whereTo: () => "/setup/shapes",
        mistakeFor,
        showAgain: (answer, status) => showShape(request, reply, answer, status),
      });
    });
  }

  /** The shape as it is, or with what was typed. */
  async function showShape(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const shape = await findShape(db, idInPath(request, "shape"));
    if (!shape) throw notFound("shape");
    const props = { shape, answer: answer ?? freshForm(typedShape(shape)) };
    return render(request, reply, ShapePage, props, { title: shape.name, place: "Setup", status });
  }
}

function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  const props = { shape: null, answer };
  return render(request, reply, ShapePage, props, { title: "New shape", place: "Setup", status });
}

function mistakeFor(refusal: "not-found" | "code-taken" | "name-taken"): Mistake {
  if (refusal === "not-found") throw notFound("shape");
  return refusal === "code-taken"
    ? { field: "code", sentence: "Another shape has this code: give one of its own." }
    : { field: "name", sentence: "Another shape has this name: call it something else." };
}
