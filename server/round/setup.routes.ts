import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { minuteOfDayWords } from "../../views/format/dates.ts";
import { RoundPlacePage } from "../../views/round/RoundPlacePage.tsx";
import { RoundSetupPage } from "../../views/round/RoundSetupPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { drivingForm, placeForm } from "./forms.ts";
import { listMinutes, listPlaces, type PlaceRow, readDriving } from "./placeQueries.ts";
import { changeDriving, writePlace } from "./writePlace.ts";

const ROUND = "/setup/round";

/** Where the stops of the round are, and how the shop drives. */
export async function roundSetupRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get(ROUND, (request, reply) => showSetup(request, reply, null, 200));

  app.post(ROUND, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: drivingForm,
      command: changeDriving,
      whereTo: () => ROUND,
      mistakeFor: customerGone,
      showAgain: (answer, status) => showSetup(request, reply, answer, status),
    }),
  );

  for (const { path, customerOf } of [
    { path: `${ROUND}/workshop`, customerOf: () => null },
    { path: `${ROUND}/customers/:customerId`, customerOf: customerInPath },
  ]) {
    app.get(path, (request, reply) => showPlace(request, reply, customerOf(request), null, 200));
    app.post(path, (request, reply) => {
      const customerId = customerOf(request);
      return takeForm(parts, request, reply, {
        schema: placeForm,
        command: (transaction, actor, facts) => writePlace(transaction, actor, { ...facts, customerId }),
        whereTo: () => ROUND,
        mistakeFor: customerGone,
        showAgain: (answer, status) => showPlace(request, reply, customerId, answer, status),
      });
    });
  }

  async function showSetup(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const { leavesMinute, ...driving } = await readDriving(db);
    const known = {
      ...Object.fromEntries(Object.entries(driving).map(([name, number]) => [name, String(number)])),
      leavesMinute: minuteOfDayWords(leavesMinute),
    };
    const props = { places: await listPlaces(db), answer: answer ?? freshForm(known) };
    return render(request, reply, RoundSetupPage, props, { title: "Local round", place: "Setup", status });
  }

  async function showPlace(
    request: FastifyRequest,
    reply: FastifyReply,
    customerId: number | null,
    answer: FormAnswer | null,
    status: number,
  ) {
    const places = await listPlaces(db);
    const place = places.find((row) => row.customerId === customerId);
    if (!place) throw notFound("place of the round");
    const others = places.filter((row) => row !== place);
    const props = { place, others, answer: answer ?? (await knownOf(place, others)) };
    return render(request, reply, RoundPlacePage, props, { title: place.name, place: "Setup", status });
  }

  async function knownOf(place: PlaceRow, others: readonly PlaceRow[]): Promise<FormAnswer> {
    const entered = await listMinutes(db);
    const minutesTo = ({ placeId }: PlaceRow) =>
      entered.find(
        ({ oneId, otherId }) =>
          (oneId === place.placeId && otherId === placeId) ||
          (oneId === placeId && otherId === place.placeId),
      )?.minutes;
    return freshForm({
      latitude: degrees(place.latitudeMicro),
      longitude: degrees(place.longitudeMicro),
      minutes: others.map((other) => String(minutesTo(other) ?? "")),
    });
  }
}

function customerInPath(request: FastifyRequest): number {
  return idInPath(request, "customer", "customerId");
}

function degrees(micro: number | null): string {
  return micro === null ? "" : String(micro / 1_000_000);
}

function customerGone(): Mistake {
  return {
    field: "",
    sentence: "One of these customers is not there any more: reload the page.",
    status: 409,
  };
}
