import type { FastifyRequest } from "fastify";
import { notFound } from "./errors.ts";
import { idField } from "./formFields.ts";

/** The number in a path such as `/setup/shapes/:id`; anything else names nothing, and is answered with 404. */
export function idInPath(request: FastifyRequest, what: string): number {
  const { id } = request.params as { readonly id?: unknown };
  const parsed = idField().safeParse(id);
  if (!parsed.success) throw notFound(what);
  return parsed.data;
}
