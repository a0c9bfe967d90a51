import type { FastifyInstance } from "fastify";
import type { FeatureParts } from "../app.ts";
import { ingredientRoutes } from "./ingredients.routes.ts";

/** What is bought: ingredients and what is known of them. */
export async function supplyRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  await app.register(ingredientRoutes, parts);
}
