import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { ShelfPlacesPage } from "../../views/shelf/ShelfPlacesPage.tsx";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { asTyped } from "../http/formFields.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { actorOf } from "../http/visitor.ts";
import { placesForm } from "./forms.ts";
import { placeLots } from "./placeLots.ts";
import { listPlacedLots } from "./queries.ts";
import { shelfRefusalWords } from "./refusals.ts";

const everyone = { config: { access: "everyone" } } as const;

/** Where every ready lot stands, and putting several of them somewhere at once. */
export async function shelfPlaceRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/shelf/places", everyone, (request, reply) => showPlaces(request, reply, freshForm(), 200));

  app.post("/shelf/places", everyone, async (request, reply) => {
    const form = readForm(placesForm, request.body);
    if (!form.ok) return showPlaces(request, reply, form.refusal, 422);
    const at = clock.now();
    const { lot: lotIds, shelfPlace } = form.value;
    const placed = await actOnce(
      db,
      request,
      at,
      (transaction) => placeLots(transaction, actorOf(request, at), { lotIds, shelfPlace }),
      () => "/shelf/places",
    );
    if (placed.ok) return reply.redirect(placed.value, 303);
    const answer = withMistake(freshForm(asTyped(request.body)), "", shelfRefusalWords(placed.refusal));
    return showPlaces(request, reply, answer, 409);
  });

  async function showPlaces(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer,
    status: number,
  ) {
    const props = { lots: await listPlacedLots(db), answer };
    return render(request, reply, ShelfPlacesPage, props, {
      ...{ title: "Places on the shelf", place: "Shelf", status },
    });
  }
}
