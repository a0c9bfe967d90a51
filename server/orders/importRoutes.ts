import type { FastifyInstance } from "fastify";
import type { FeatureParts } from "../app.ts";
export async function orderImportRoutes(_app: FastifyInstance, _parts: FeatureParts): Promise<void> {}
