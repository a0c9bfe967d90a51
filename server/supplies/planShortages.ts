import { asc } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { blends } from "../../db/schema/products.ts";
import { groupBy } from "../basics/groupBy.ts";
import { readBooks } from "./books.ts";
import { explode, type Purpose, packingNeeds, plannedMixes } from "./demand.ts";
import type { SupplyKind } from "./kinds.ts";
import { firstShortage, type Shortage } from "./shortage.ts";

/** A run of a plan that nobody has accepted yet. */
export interface ProposedRun {
  /** Date of its session. */
  readonly on: string;
  /** Code of its blend. */
  readonly blend: string;
  readonly mixMilligrams: number;
}

export interface SupplyShortage extends Shortage<Purpose> {
  readonly supplyId: number;
  readonly name: string;
  readonly kind: SupplyKind;
}

/** Whether what is there and on its way lasts for a plan. */
export interface PlanSupplies {
  /** False: nothing was ever entered, so nobody knows. */
  readonly isKept: boolean;
  /** What runs out first first. */
  readonly shortages: readonly SupplyShortage[];
  /** Needed, and nothing of it was ever entered. */
  readonly unknown: readonly string[];
  /** Blends of the plan without a recipe. */
  readonly withoutRecipe: readonly string[];
}

/**
 * What a plan runs out of, which run first, and when: its runs in their order, and what confirmed orders are still to be
 * packed with, against what is there, good on the day, and on its way.
 *
 * @param proposed in the order in which they are mixed; null: the followed plan, with what is left of it
 */
export async function readPlanSupplies(
  db: Database,
  proposed: readonly ProposedRun[] | null,
  today: string,
): Promise<PlanSupplies> {
  const kept = await readBooks(db, today);
  if (!kept.some(({ isKnown }) => isKnown))
    return { isKept: false, shortages: [], unknown: [], withoutRecipe: [] };
  const mixes = proposed === null ? await plannedMixes(db) : await asMixes(db, proposed);
  const { needs: forBowls, withoutRecipe } = await explode(db, mixes);
  const needs = groupBy([...forBowls, ...(await packingNeeds(db, today))], ({ supplyId }) => supplyId);
  const shortages = kept.flatMap(({ id, name, kind, books, isKnown }): readonly SupplyShortage[] => {
    if (!isKnown) return [];
    const shortage = firstShortage(needs.get(id) ?? [], books, today);
    return shortage === null ? [] : [{ ...shortage, supplyId: id, name, kind }];
  });
  return {
    isKept: true,
    shortages: shortages.toSorted((one, other) => (one.on < other.on ? -1 : one.on > other.on ? 1 : 0)),
    unknown: kept.filter(({ id, isKnown }) => !isKnown && needs.has(id)).map(({ name }) => name),
    withoutRecipe,
  };
}

async function asMixes(db: Database, proposed: readonly ProposedRun[]) {
  const rows = await db
    .select({ id: blends.id, code: blends.code, name: blends.name })
    .from(blends)
    .orderBy(asc(blends.id));
  const byCode = new Map(rows.map((row) => [row.code, row]));
  return proposed.flatMap(({ on, blend: code, mixMilligrams }) => {
    const blend = byCode.get(code);
    if (!blend) return [];
    return [{ on, blendId: blend.id, mixMilligrams, what: { kind: "run" as const, blend: blend.name } }];
  });
}
