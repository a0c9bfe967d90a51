import type { FastifyRequest } from "fastify";
import { notFound } from "./errors.ts";
import { idField } from "./formFields.ts";

/**
 * The number in a path such as `/setup/shapes/:id`, or under another name, as in `/packing/:orderId`; anything else
 * names nothing, and is answered with 404.
 */
export function idInPath(request: FastifyRequest, what: string, name = "id"): number {
  const parsed = idField().safeParse((request.params as Readonly<Record<string, unknown>>)[name]);
  if (!parsed.success) throw notFound(what);
  return parsed.data;
}
