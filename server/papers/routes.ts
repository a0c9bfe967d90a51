import type { FastifyInstance } from "fastify";
import type { FeatureParts } from "../app.ts";
import { billingRoutes } from "./billing.routes.ts";
import { letterheadRoutes } from "./letterhead.routes.ts";
import { settlingRoutes } from "./settling.routes.ts";
import { statementRoutes } from "./statement.routes.ts";

/** What is sent to customers on paper, and what they pay for it. All of it is the owner's. */
export async function paperRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  await app.register(letterheadRoutes, parts);
  await app.register(billingRoutes, parts);
  await app.register(settlingRoutes, parts);
  await app.register(statementRoutes, parts);
}
