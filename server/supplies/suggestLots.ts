import { asc, eq, inArray, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { runs } from "../../db/schema/plans.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { recipeOn } from "../recipes/inForce.ts";
import { firstExpiredFirst, isPast, takeFefo } from "./fefo.ts";
import { lotsOnHand } from "./lotsOnHand.ts";
import { mixOfRun, needsOfMix } from "./runNeeds.ts";

/** A lot to weigh from, and how much of it. */
export interface SuggestedLot {
  readonly lotId: number;
  /** Our own code, to be read off the bag. */
  readonly code: string;
  readonly supplierLot: string;
  readonly expiresOn: string | null;
  /** To weigh from it, in milligrams. */
  readonly milligrams: number;
}

/** What one ingredient of a run is weighed from. */
export interface SuggestedIngredient {
  readonly supplyId: number;
  readonly name: string;
  /** All that the run needs of it. */
  readonly milligrams: number;
  /** First expired first. */
  readonly lots: readonly SuggestedLot[];
  /** What no good lot has, in milligrams; 0: there is enough. */
  readonly beyondMilligrams: number;
  /** Codes of lots that have some of it but are past their last good day. */
  readonly expired: readonly string[];
}

/**
 * From which lots to weigh a run out that is not begun, by the recipe that holds on `day`: the same that starting it
 * takes. Ingredients in the recipe's order; without a recipe none. What nobody keeps count of is left out.
 */
export async function suggestLots(
  db: Database | Transaction,
  runId: number,
  day: string,
): Promise<readonly SuggestedIngredient[]> {
  const [run] = await db
    .select({ recipeId: recipeOn(sql`${runs.blendId}`, sql`${day}::date`) })
    .from(runs)
    // With a second table every column is named in full, which the inner select needs.
    .innerJoin(workshop, sql`true`)
    .where(eq(runs.id, runId));
  if (!run || run.recipeId === null) return [];
  const needs = await needsOfMix(db, run.recipeId, await mixOfRun(db, runId));
  const supplyIds = needs.map(({ supplyId }) => supplyId);
  const names = await namesOf(db, supplyIds);
  const lots = groupBy(await lotsOnHand(db, supplyIds), ({ supplyId }) => supplyId);
  return needs.map(({ supplyId, amount }) => {
    const its = lots.get(supplyId) ?? [];
    const { takes, beyond } = takeFefo(amount, its, day);
    return {
      supplyId,
      name: names.get(supplyId) ?? "",
      milligrams: amount,
      lots: takes.flatMap((take) => {
        const lot = its.find(({ lotId }) => lotId === take.lotId);
        if (!lot) return [];
        const { lotId, code, supplierLot, expiresOn } = lot;
        return [{ lotId, code, supplierLot, expiresOn, milligrams: take.amount }];
      }),
      beyondMilligrams: beyond,
      expired: its
        .filter((lot) => !lot.recalled && isPast(lot, day))
        .toSorted(firstExpiredFirst)
        .map(({ code }) => code),
    };
  });
}

async function namesOf(
  db: Database | Transaction,
  supplyIds: readonly number[],
): Promise<ReadonlyMap<number, string>> {
  const rows = await db
    .select({ id: supplies.id, name: supplies.name })
    .from(supplies)
    .where(inArray(supplies.id, [...supplyIds]))
    .orderBy(asc(supplies.id));
  return new Map(rows.map(({ id, name }) => [id, name]));
}
