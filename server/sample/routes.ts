import type { FastifyInstance } from "fastify";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { actorOf } from "../http/visitor.ts";
import { ownTimeZone } from "../workshop/timeZones.ts";
import { loadSampleWorkshop } from "./loadSampleWorkshop.ts";

/** One of the two ways to begin; the page that offers them is the workshop's. */
export async function sampleRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.post("/welcome/sample", async (request, reply) => {
    const at = clock.now();
    const loaded = await actOnce(
      db,
      request,
      at,
      (transaction) => loadSampleWorkshop(transaction, actorOf(request, at), ownTimeZone()),
      () => "/week",
    );
    // Somebody has begun already: what there is to see is their workshop.
    return reply.redirect(loaded.ok ? loaded.value : "/week", 303);
  });
}
