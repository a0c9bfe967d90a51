import { and, eq, inArray } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { scentLimits, supplies } from "../../db/schema/supplies.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { ingredientKind, isIngredient } from "../supplies/ingredient.ts";
import { dryMilligrams } from "./drying.ts";
import type { FormPart, VersionDraft } from "./forms.ts";
import { type CompositionRefusal, KILOGRAM, perKilogram } from "./perKilogram.ts";
import type { Phase } from "./phases.ts";
import { judgeScents } from "./scentLimits.ts";
import { usualPhase } from "./usualPhase.ts";

/** Why a version cannot be kept; `place` is the row of the form. */
export type VersionRefusal =
  | { readonly kind: "not-found" }
  | { readonly kind: "ingredient-unknown"; readonly place: number }
  | { readonly kind: "twice-in-a-step"; readonly place: number }
  | CompositionRefusal
  | {
      readonly kind: "scent-above-limit";
      readonly place: number;
      readonly name: string;
      readonly sharePpm: number;
      readonly limitPpm: number;
      readonly source: string;
    };

interface ReckonedPart {
  readonly supplyId: number;
  readonly phase: Phase;
  readonly milligramsPerKilogram: number;
  readonly written: FormPart["amount"];
}

/** What a draft comes to. */
export interface ReckonedVersion {
  readonly parts: readonly ReckonedPart[];
  /** What is left of a kilogram of mix. */
  readonly dryMilligramsPerKilogram: number;
  /** Names of scent oils for which no limit has been entered in the recipe's category. */
  readonly unlimited: readonly string[];
}

/**
 * Weighs a draft by its ingredients as they are known now: every volume by its own density, every scent oil against
 * its limit. Writes nothing; in a transaction the ingredients are held as they are until it ends.
 */
export async function reckonVersion(
  db: Database | Transaction,
  draft: Pick<VersionDraft, "category" | "writtenFor" | "parts">,
): Promise<Result<ReckonedVersion, VersionRefusal>> {
  const known = await readIngredients(db, draft);
  const parts: (FormPart & { readonly ingredient: KnownIngredient; readonly phase: Phase })[] = [];
  for (const part of draft.parts) {
    const ingredient = known.get(part.supplyId);
    if (!ingredient) return refuse({ kind: "ingredient-unknown", place: part.place });
    const phase = part.phase ?? usualPhase(ingredient.kind);
    if (parts.some((one) => one.supplyId === part.supplyId && one.phase === phase))
      return refuse({ kind: "twice-in-a-step", place: part.place });
    parts.push({ ...part, phase, ingredient });
  }
  const rowOf = (place: number) => parts[place]?.place ?? 0;
  const composed = perKilogram(
    parts.map(({ amount, ingredient }) => ({ amount, ...ingredient })),
    draft.writtenFor,
  );
  if (!composed.ok) {
    const { refusal } = composed;
    return refuse("place" in refusal ? { ...refusal, place: rowOf(refusal.place) } : refusal);
  }
  const weighed = parts.map((part, place) => ({
    ...part,
    milligramsPerKilogram: composed.value[place] ?? 0,
  }));
  const scented = weighed.map(({ milligramsPerKilogram, ingredient }) => ({
    milligramsPerKilogram,
    evaporatesBasisPoints: ingredient.evaporatesBasisPoints,
    kind: ingredient.kind,
    limitPpm: ingredient.limitPpm,
  }));
  const verdicts = judgeScents(scented);
  for (const { place, sharePpm, limitPpm, verdict } of verdicts) {
    const ingredient = weighed[place]?.ingredient;
    if (verdict !== "above" || limitPpm === null || !ingredient) continue;
    const { name, limitSource } = ingredient;
    const above = { name, sharePpm, limitPpm, source: limitSource ?? "" };
    return refuse({ kind: "scent-above-limit", place: rowOf(place), ...above });
  }
  return ok({
    parts: weighed.map(({ supplyId, phase, milligramsPerKilogram, amount }) => ({
      ...{ supplyId, phase, milligramsPerKilogram },
      written: amount,
    })),
    dryMilligramsPerKilogram: dryMilligrams(scented, KILOGRAM),
    unlimited: verdicts.flatMap(({ place, verdict }) =>
      verdict === "unknown" ? [weighed[place]?.ingredient.name ?? ""] : [],
    ),
  });
}

type KnownIngredient =
  Awaited<ReturnType<typeof readIngredients>> extends ReadonlyMap<number, infer Known> ? Known : never;

/** Ingredients in use, by id, each with its limit in the draft's category. */
async function readIngredients(
  db: Database | Transaction,
  { category, parts }: Pick<VersionDraft, "category" | "parts">,
) {
  const ids = [...new Set(parts.map(({ supplyId }) => supplyId))];
  const rows = await db
    .select({
      id: supplies.id,
      name: supplies.name,
      kind: ingredientKind,
      densityGramsPerLitre: supplies.densityGramsPerLitre,
      evaporatesBasisPoints: supplies.evaporatesBasisPoints,
      retiredAt: supplies.retiredAt,
      limitPpm: scentLimits.limitPpm,
      limitSource: scentLimits.source,
    })
    .from(supplies)
    .leftJoin(scentLimits, and(eq(scentLimits.supplyId, supplies.id), eq(scentLimits.category, category)))
    .where(and(inArray(supplies.id, ids), isIngredient))
    .orderBy(supplies.id)
    .for("share", { of: supplies });
  return new Map(rows.flatMap((row) => (row.retiredAt === null ? [[row.id, row] as const] : [])));
}
