import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { BoxSizePage } from "../../views/setup/BoxSizePage.tsx";
import { BoxSizesPage } from "../../views/setup/BoxSizesPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { boxSizeForm } from "./boxSizeForms.ts";
import { type BoxSizeRow, findBoxSize, listBoxSizes, listShapesToBox } from "./boxSizeQueries.ts";
import {
  addBoxSize,
  type BoxSizeRefusal,
  bringBackBoxSize,
  changeBoxSize,
  retireBoxSize,
} from "./writeBoxSize.ts";

const LIST = "/setup/boxes";

/** The sizes of box the shop sends its orders in. */
export async function boxSizeRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get(LIST, async (request, reply) => {
    const props = { sizes: await listBoxSizes(db) };
    return render(request, reply, BoxSizesPage, props, { title: "Boxes", place: "Setup" });
  });

  app.get(`${LIST}/new`, (request, reply) => showNew(request, reply, freshForm(), 200));

  app.post(LIST, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: boxSizeForm,
      command: addBoxSize,
      whereTo: () => LIST,
      mistakeFor: boxSizeMistake,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  app.get(`${LIST}/:id`, (request, reply) => showSize(request, reply, null, 200));

  app.post(`${LIST}/:id`, (request, reply) => {
    const boxSizeId = idInPath(request, "box size");
    return takeForm(parts, request, reply, {
      schema: boxSizeForm,
      command: (transaction, actor, facts) => changeBoxSize(transaction, actor, { ...facts, boxSizeId }),
      whereTo: () => LIST,
      mistakeFor: boxSizeMistake,
      showAgain: (answer, status) => showSize(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: `${LIST}/:id/retirement`, command: retireBoxSize },
    { path: `${LIST}/:id/return`, command: bringBackBoxSize },
  ]) {
    app.post(path, (request, reply) => {
      const boxSizeId = idInPath(request, "box size");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { boxSizeId }),
        whereTo: () => LIST,
        mistakeFor: boxSizeMistake,
        showAgain: (answer, status) => showSize(request, reply, answer, status),
      });
    });
  }

  async function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const props = { size: null, shapes: await listShapesToBox(db), answer };
    return render(request, reply, BoxSizePage, props, { title: "New box", place: "Setup", status });
  }

  async function showSize(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const size = await findBoxSize(db, idInPath(request, "box size"));
    if (!size) throw notFound("box size");
    const props = { size, shapes: await listShapesToBox(db), answer: answer ?? knownForm(size) };
    return render(request, reply, BoxSizePage, props, { title: size.name, place: "Setup", status });
  }
}

function knownForm({ name, tareMilligrams, holds, ...size }: BoxSizeRow): FormAnswer {
  const side = (millimetres: number | null) => (millimetres === null ? "" : String(millimetres));
  return freshForm({
    ...{ name, tare_grams: String(tareMilligrams / 1000) },
    inner_length: side(size.innerLengthMm),
    inner_width: side(size.innerWidthMm),
    inner_height: side(size.innerHeightMm),
    holdsShape: holds.map(({ shapeId }) => String(shapeId)),
    holdsUnits: holds.map(({ units }) => String(units)),
  });
}

function boxSizeMistake(refusal: BoxSizeRefusal): Mistake {
  if (refusal === "not-found") throw notFound("box size");
  return refusal === "name-taken"
    ? { field: "name", sentence: "Another box has this name: tell the two apart." }
    : {
        field: "",
        sentence: "One of the shapes is not there any more. Look at the list again.",
        status: 409,
      };
}
