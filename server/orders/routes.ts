import type { FastifyInstance } from "fastify";
import type { FeatureParts } from "../app.ts";
import { PromiseDesk } from "../plans/promiseDesk.ts";
import { changeRoutes } from "./changeRoutes.ts";
import { entryRoutes } from "./entryRoutes.ts";
import { orderImportRoutes } from "./importRoutes.ts";
import { listRoutes } from "./listRoutes.ts";
import { promiseRoutes } from "./promiseRoutes.ts";
import { stateRoutes } from "./stateRoutes.ts";

export async function orderRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const asking = { ...parts, desk: new PromiseDesk(parts.planner) };
  await app.register(listRoutes, parts);
  await app.register(entryRoutes, asking);
  await app.register(changeRoutes, asking);
  await app.register(promiseRoutes, asking);
  await app.register(stateRoutes, asking);
  await app.register(orderImportRoutes, parts);
}
