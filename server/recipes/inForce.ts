import { type SQL, sql } from "drizzle-orm";
import { runs } from "../../db/schema/plans.ts";
import { recipes } from "../../db/schema/recipes.ts";

/**
 * The version of a blend's recipe that holds on a day, as part of a statement: the one that began last, the newer of
 * two that began together; null before the first.
 */
export function recipeOn(blendId: SQL, day: SQL): SQL<number | null> {
  return sql`(select ${recipes.id} from ${recipes}
    where ${recipes.blendId} = ${blendId} and ${recipes.validFrom} <= ${day}
    order by ${recipes.validFrom} desc, ${recipes.version} desc limit 1)`;
}

/**
 * The version a run is mixed by, as part of a statement: the one it was begun by, null where its blend had none then;
 * before its start the one that holds on a day.
 */
export function recipeOfRun(
  blendId: SQL = sql`${runs.blendId}`,
  day: SQL = sql`${runs.sessionDate}`,
): SQL<number | null> {
  return sql`case when ${runs.startedAt} is null then ${recipeOn(blendId, day)} else ${runs.recipeId} end`;
}
