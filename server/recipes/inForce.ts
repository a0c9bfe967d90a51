import { type SQL, sql } from "drizzle-orm";
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
