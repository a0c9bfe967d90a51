import type { FastifyInstance } from "fastify";
import { withMistake } from "../../views/components/formAnswer.ts";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { actorOf } from "../http/visitor.ts";
import { showBeginning, usualNumbers } from "../workshop/beginning.routes.ts";
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
    if (loaded.ok) return reply.redirect(loaded.value, 303);
    if (loaded.refusal === "time-zone-unknown")
      return showBeginning(request, reply, withMistake(usualNumbers(), "timeZone", zoneUnknown), 422);
    // Somebody has begun already: what there is to see is their workshop.
    return reply.redirect("/week", 303);
  });
}

const zoneUnknown =
  "The database does not know this server's time zone, which the sample would be dated in. Open your own workshop in one nearby that keeps the same time.";
