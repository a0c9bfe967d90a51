import type { FastifyInstance } from "fastify";
import type { FeatureParts } from "../app.ts";
import { boxCardRoutes } from "./boxCards.routes.ts";
import { cardRoutes } from "./cards.routes.ts";
import { openFaces } from "./faces.ts";
import { labelPrintRoutes } from "./print.routes.ts";
import { labelSetupRoutes } from "./setup.routes.ts";

/** Labels for the pieces, and cards for trays and boxes; who stands on them, and on what sheets. */
export async function labelRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  await app.register(labelSetupRoutes, parts);
  const printing = { ...parts, faces: openFaces() };
  await app.register(labelPrintRoutes, printing);
  await app.register(cardRoutes, printing);
  await app.register(boxCardRoutes, printing);
}
