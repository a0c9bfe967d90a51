import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { CratePage } from "../../views/delivery/CratePage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { findCrate } from "./crateQueries.ts";
import { crateForm, loadCrate, unloadCrate } from "./loadCrate.ts";
import { type DeliveryRefusal, deliveryRefusalWords } from "./refusals.ts";

const everyone = { config: { access: "everyone" } } as const;

/** Loading a market's crate, lot by lot, ticked off by whoever carries it to the car. */
export async function crateRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get("/delivery/crates/:orderId", everyone, (request, reply) =>
    showCrate(request, reply, freshForm(), 200),
  );

  for (const { path, command } of [
    { path: "loading", command: loadCrate },
    { path: "unloading", command: unloadCrate },
  ])
    app.post(`/delivery/crates/:orderId/${path}`, everyone, (request, reply) => {
      const orderId = idInPath(request, "crate", "orderId");
      return takeForm(parts, request, reply, {
        schema: crateForm,
        command: (transaction, actor, part) => command(transaction, actor, { ...part, orderId }),
        whereTo: () => `/delivery/crates/${orderId}`,
        mistakeFor: crateMistake,
        showAgain: (answer, status) => showCrate(request, reply, answer, status),
      });
    });

  async function showCrate(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const crate = await findCrate(db, idInPath(request, "crate", "orderId"));
    if (!crate) throw notFound("crate");
    const props = { crate, answer, timeZone: workshopOf(request).timeZone };
    const title = `Load ${crate.reference}`;
    return render(request, reply, CratePage, props, { title, place: "Delivery", status });
  }
}

function crateMistake(refusal: DeliveryRefusal): Mistake {
  if (refusal.why === "no-such-crate") throw notFound("crate");
  return { field: "", sentence: deliveryRefusalWords(refusal), status: 409 };
}
