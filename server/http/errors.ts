import { DrizzleQueryError } from "drizzle-orm/errors";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { sqlState } from "../../db/sqlState.ts";
import { ProblemPage } from "../../views/layout/ProblemPage.tsx";
import { render } from "./render.ts";

/** A thing that is not there; the error handler answers 404 with the sentence. */
export function notFound(what: string): Error {
  return Object.assign(new Error(`There is no such ${what}.`), { statusCode: 404 });
}

/** Every failure becomes a page in plain words; what went wrong inside is logged, never shown. */
export function registerErrors(app: FastifyInstance): void {
  app.setNotFoundHandler((request, reply) => problem(request, reply, 404, "There is no such page."));
  app.setErrorHandler((error: Error & { statusCode?: number; code?: string }, request, reply) => {
    const status = error.statusCode ?? 500;
    if (status >= 500) {
      request.log.error({ err: tellable(error) }, "a request failed");
      return problem(
        request,
        reply,
        500,
        "Something went wrong on our side. Nothing was changed; please try again.",
      );
    }
    return problem(request, reply, status, sentenceFor(error, status));
  });
}

/**
 * What may stand in a log. A failed statement carries its values, and Postgres tells the row it refused: names,
 * addresses, hashes of passwords. The statement itself and what was wrong with it are enough to look into it.
 */
function tellable(error: Error): Error {
  if (!(error instanceof DrizzleQueryError)) return error;
  const frames = error.stack?.split("\n").filter((line) => /^\s+at /.test(line)) ?? [];
  const told = new Error(`${error.cause?.message ?? "A statement failed"}: ${error.query}`);
  told.stack = [`Error: ${told.message}`, ...frames].join("\n");
  return Object.assign(told, { code: sqlState(error) });
}

function problem(
  request: FastifyRequest,
  reply: FastifyReply,
  status: number,
  sentence: string,
): FastifyReply {
  return render(request, reply, ProblemPage, { status, sentence }, { title: "Sorry", status });
}

/** Fastify's own refusals in the words of the workshop; ours are sentences already. */
function sentenceFor(error: Error & { code?: string }, status: number): string {
  if (status === 429) return "Too many tries from here. Wait five minutes, then try again.";
  switch (error.code) {
    case "FST_CSRF_MISSING_SECRET":
    case "FST_CSRF_INVALID_TOKEN":
      return "This page was open for too long, or was not ours. Go back, reload it and send it again.";
    case "FST_ERR_CTP_BODY_TOO_LARGE":
    case "FST_REQ_FILE_TOO_LARGE":
    case "FST_PARTS_LIMIT":
    case "FST_FILES_LIMIT":
    case "FST_FIELDS_LIMIT":
      return "That is more than can be sent at once.";
    case "FST_ERR_CTP_INVALID_MEDIA_TYPE":
      return "This page takes forms only.";
    default:
      return error.code?.startsWith("FST_") ? "The request could not be understood." : error.message;
  }
}
