import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { ParcelPage } from "../../views/delivery/ParcelPage.tsx";
import { plainMoney } from "../../views/format/money.ts";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { listCarrierChoices } from "./carrierQueries.ts";
import { parcelForm } from "./parcelForms.ts";
import { listParcels, type ParcelRow, sellsInOunces } from "./parcelQueries.ts";
import { findDelivery } from "./queries.ts";
import { type DeliveryRefusal, deliveryRefusalWords } from "./refusals.ts";
import { addParcel, changeParcel, removeParcel } from "./writeParcel.ts";

const everyone = { config: { access: "everyone" } } as const;
const PARCELS = "/delivery/:deliveryId/parcels";

/** What is written down of the parcels of a delivery, often when it has left. */
export async function parcelRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get(`${PARCELS}/new`, everyone, (request, reply) => showParcel(request, reply, null, 200));

  app.post(PARCELS, everyone, async (request, reply) => {
    const deliveryId = idInPath(request, "delivery", "deliveryId");
    return takeForm(parts, request, reply, {
      schema: parcelForm(await costCurrency(request)),
      command: (transaction, actor, facts) => addParcel(transaction, actor, { ...facts, deliveryId }),
      whereTo: whereParcelsAre,
      mistakeFor: parcelMistake,
      showAgain: (answer, status) => showParcel(request, reply, answer, status),
    });
  });

  app.get(`${PARCELS}/:parcelId`, everyone, (request, reply) => showParcel(request, reply, null, 200));

  app.post(`${PARCELS}/:parcelId`, everyone, async (request, reply) => {
    const ids = parcelInPath(request);
    return takeForm(parts, request, reply, {
      schema: parcelForm(await costCurrency(request)),
      command: (transaction, actor, facts) => changeParcel(transaction, actor, { ...facts, ...ids }),
      whereTo: whereParcelsAre,
      mistakeFor: parcelMistake,
      showAgain: (answer, status) => showParcel(request, reply, answer, status),
    });
  });

  app.post(`${PARCELS}/:parcelId/removal`, everyone, (request, reply) => {
    const ids = parcelInPath(request);
    return takeForm(parts, request, reply, {
      schema: z.object({}),
      command: (transaction, actor) => removeParcel(transaction, actor, ids),
      whereTo: whereParcelsAre,
      mistakeFor: parcelMistake,
      showAgain: (answer, status) => showParcel(request, reply, answer, status),
    });
  });

  /** The currency in which costs are typed, for those who see them. */
  async function costCurrency({ person }: FastifyRequest): Promise<string | null> {
    return person?.role === "owner" ? await readCurrency(db) : null;
  }

  async function showParcel(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const delivery = await findDelivery(db, idInPath(request, "delivery", "deliveryId"));
    if (!delivery) throw notFound("delivery");
    const isNew = !("parcelId" in (request.params as object));
    const parcelId = isNew ? null : idInPath(request, "parcel", "parcelId");
    const found = (await listParcels(db, [delivery.deliveryId])).find((row) => row.parcelId === parcelId);
    if (!isNew && !found) throw notFound("parcel");
    const currency = await costCurrency(request);
    const props = {
      ...{ delivery, parcel: found ?? null, currency },
      carriers: await listCarrierChoices(db),
      inOunces: await sellsInOunces(db),
      answer: answer ?? freshForm(found ? knownOf(found, currency) : {}),
    };
    const title = `Parcel of ${delivery.reference}`;
    return render(request, reply, ParcelPage, props, { title, place: "Delivery", status });
  }
}

function parcelInPath(request: FastifyRequest) {
  return {
    deliveryId: idInPath(request, "delivery", "deliveryId"),
    parcelId: idInPath(request, "parcel", "parcelId"),
  };
}

/** The list of parcels on the page of their delivery. */
function whereParcelsAre({ deliveryId }: { readonly deliveryId: number }): string {
  return `/delivery/${deliveryId}#parcels`;
}

function knownOf({ carrierId, service, grams, tracking, costMinor }: ParcelRow, currency: string | null) {
  return {
    sentWith: carrierId === null ? "" : `${carrierId}/${service}`,
    grams: grams === null ? "" : String(grams),
    tracking,
    ...(currency !== null && costMinor !== null ? { cost: plainMoney(costMinor, currency) } : {}),
  };
}

/** Where a refusal is said on the form of a parcel. */
function parcelMistake(refusal: DeliveryRefusal): Mistake {
  if (refusal.why === "no-such-delivery") throw notFound("delivery");
  if (refusal.why === "no-such-parcel") throw notFound("parcel");
  const field = refusal.why === "carrier-gone" ? "sentWith" : "";
  return { field, sentence: deliveryRefusalWords(refusal), status: 409 };
}
