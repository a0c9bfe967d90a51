import type { FastifyInstance } from "fastify";
import type { FeatureParts } from "../app.ts";
import { ingredientRoutes } from "./ingredients.routes.ts";
import { supplyLedgerRoutes } from "./ledger.routes.ts";
import { lotCorrectionRoutes } from "./lotCorrection.routes.ts";
import { packagingRoutes } from "./packaging.routes.ts";
import { supplierRoutes } from "./suppliers.routes.ts";
import { toBuyRoutes } from "./toBuy.routes.ts";

/** What is bought: what is known of it, what there is of it, who sells it. */
export async function supplyRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  await app.register(ingredientRoutes, parts);
  await app.register(packagingRoutes, parts);
  await app.register(supplierRoutes, parts);
  await app.register(toBuyRoutes, parts);
  await app.register(supplyLedgerRoutes, parts);
  await app.register(lotCorrectionRoutes, parts);
}
