import type { z } from "zod";
import type { FormAnswer } from "../../views/components/formAnswer.ts";
import { ok, type Result, refuse } from "../basics/result.ts";

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

/** Of a field that was sent several times, as many are shown again as the longest form rightly has, and one more. */
const MOST_SHOWN_AGAIN = 501;

/** The fields of a sent form as text, for showing them again; fields sent several times as lists. */
export function asTyped(body: unknown): FormAnswer["typed"] {
  const typed: Record<string, string | readonly string[]> = {};
  if (typeof body !== "object" || body === null) return typed;
  for (const [name, value] of Object.entries(body)) {
    if (typeof value === "string") typed[name] = value;
    else if (Array.isArray(value))
      typed[name] = value
        .filter((item): item is string => typeof item === "string")
        .slice(0, MOST_SHOWN_AGAIN);
  }
  return typed;
}
