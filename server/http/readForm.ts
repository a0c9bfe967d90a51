import type { z } from "zod";
import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { asTyped } from "./formFields.ts";

/**
 * Parses what a form sent with its schema. When anything is wrong the refusal holds every mistake beside its
 * field (dotted path, such as "lines.2.units") and everything as it was typed, ready for showing the form again.
 */
export function readForm<Schema extends z.ZodType>(
  schema: Schema,
  body: unknown,
): Result<z.output<Schema>, FormAnswer> {
  const parsed = schema.safeParse(body ?? {});
  if (parsed.success) return ok(parsed.data);
  const mistakes: Record<string, string> = {};
  for (const issue of parsed.error.issues) {
    const path = issue.path.join(".");
    mistakes[path] ??= issue.message;
  }
  return refuse({ typed: asTyped(body), mistakes });
}
