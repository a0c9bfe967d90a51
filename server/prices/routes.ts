import type { FastifyInstance } from "fastify";
import type { FeatureParts } from "../app.ts";
import { moneyRoutes } from "./money.routes.ts";
import { priceListRoutes } from "./priceLists.routes.ts";
import { taxRoutes } from "./taxes.routes.ts";

/** Money, tax and prices, as the owner sets them up. */
export async function priceRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  await app.register(moneyRoutes, parts);
  await app.register(taxRoutes, parts);
  await app.register(priceListRoutes, parts);
}
