import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { PromiseAdvice } from "../../views/orders/PromiseAdvice.tsx";
import type { Advice } from "../../views/orders/promiseWords.ts";
import type { FeatureParts } from "../app.ts";
import { fieldOf } from "../http/formFields.ts";
import { render } from "../http/render.ts";
import type { PromiseDesk } from "../plans/promiseDesk.ts";
import { adviseOn } from "./promiseAdvice.ts";
import { readFormBeingTyped } from "./promiseForm.ts";

/** What routes that show the form of an order are given beside the rest. */
export interface PromiseParts extends FeatureParts {
  readonly desk: PromiseDesk;
}

/** When what is being typed can be promised; changes nothing. */
export async function promiseRoutes(app: FastifyInstance, parts: PromiseParts): Promise<void> {
  app.post("/orders/promise", async (request, reply) => {
    const advice = await adviceFor(parts, request, reply);
    return render(request, reply, PromiseAdvice, { advice }, { title: "When", place: "Orders" });
  });
}

/** The advice a form asks for with its button, which works without JavaScript; null where another was pressed. */
export async function adviceAskedFor(
  parts: PromiseParts,
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<Advice | null> {
  return fieldOf(request.body, "save") === "promise" ? await adviceFor(parts, request, reply) : null;
}

async function adviceFor(
  { clock, ...parts }: PromiseParts,
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<Advice> {
  const gone = new AbortController();
  // A newer question of the same tab closes the connection of the one before.
  reply.raw.once("close", () => {
    if (!reply.raw.writableEnded) gone.abort();
  });
  return await adviseOn(parts, clock.now(), readFormBeingTyped(request.body), gone.signal);
}
