import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { CarrierPage } from "../../views/setup/CarrierPage.tsx";
import { CarriersPage } from "../../views/setup/CarriersPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { carrierForm } from "./carrierForms.ts";
import { findCarrier, listCarriers } from "./carrierQueries.ts";
import {
  addCarrier,
  bringBackCarrier,
  type CarrierRefusal,
  changeCarrier,
  retireCarrier,
} from "./writeCarrier.ts";

const LIST = "/setup/carriers";

/** The shop's own list of who carries its parcels. */
export async function carrierRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get(LIST, async (request, reply) => {
    const props = { carriers: await listCarriers(db) };
    return render(request, reply, CarriersPage, props, { title: "Carriers", place: "Setup" });
  });

  app.get(`${LIST}/new`, (request, reply) => showNew(request, reply, freshForm(), 200));

  app.post(LIST, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: carrierForm,
      command: addCarrier,
      whereTo: () => LIST,
      mistakeFor: carrierMistake,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  app.get(`${LIST}/:id`, (request, reply) => showCarrier(request, reply, null, 200));

  app.post(`${LIST}/:id`, (request, reply) => {
    const carrierId = idInPath(request, "carrier");
    return takeForm(parts, request, reply, {
      schema: carrierForm,
      command: (transaction, actor, facts) => changeCarrier(transaction, actor, { ...facts, carrierId }),
      whereTo: () => LIST,
      mistakeFor: carrierMistake,
      showAgain: (answer, status) => showCarrier(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: `${LIST}/:id/retirement`, command: retireCarrier },
    { path: `${LIST}/:id/return`, command: bringBackCarrier },
  ]) {
    app.post(path, (request, reply) => {
      const carrierId = idInPath(request, "carrier");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { carrierId }),
        whereTo: () => LIST,
        mistakeFor: carrierMistake,
        showAgain: (answer, status) => showCarrier(request, reply, answer, status),
      });
    });
  }

  async function showCarrier(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const carrier = await findCarrier(db, idInPath(request, "carrier"));
    if (!carrier) throw notFound("carrier");
    const { name, services, trackingPattern } = carrier;
    const known = freshForm({ name, services: services.join("\n"), tracking: trackingPattern });
    const props = { carrier, answer: answer ?? known };
    return render(request, reply, CarrierPage, props, { title: name, place: "Setup", status });
  }
}

function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  const props = { carrier: null, answer };
  return render(request, reply, CarrierPage, props, { title: "New carrier", place: "Setup", status });
}

function carrierMistake(refusal: CarrierRefusal): Mistake {
  if (refusal === "not-found") throw notFound("carrier");
  return { field: "name", sentence: "Another carrier has this name: tell the two apart." };
}
