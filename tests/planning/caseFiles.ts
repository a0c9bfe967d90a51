import { readFileSync } from "node:fs";
import path from "node:path";
import type { PlanCase } from "../../server/planning/case.ts";
import { parseCase } from "../../server/planning/parseCase.ts";
import type { JsonCase } from "./independentChecker.ts";

const folder = path.join(import.meta.dirname, "cases");

/** The best plan anybody has found for a case of the folder, and what is proven about it. */
export interface KnownCase {
  readonly case: string;
  readonly bestKnownCost: number;
  readonly itsHandMinutes: number;
  readonly provenBound: number;
}

export const knownCases: readonly KnownCase[] = JSON.parse(
  readFileSync(path.join(folder, "index.json"), "utf8"),
).cases;

export function jsonOfFile(file: string): JsonCase {
  return JSON.parse(readFileSync(path.join(folder, file), "utf8"));
}

export function caseOfFile(file: string): PlanCase {
  return caseFromJson(jsonOfFile(file));
}

/** Parses a case that must be right; the mistakes are the message where it is not. */
export function caseFromJson(json: unknown): PlanCase {
  const parsed = parseCase(json);
  if (!parsed.ok)
    throw new Error(parsed.refusal.map(({ path: at, problem }) => `${at} ${problem}`).join("\n"));
  return parsed.value;
}
