import { inArray, type SQL, sql } from "drizzle-orm";
import { supplies } from "../../db/schema/supplies.ts";
import { type IngredientKind, ingredientKinds } from "../recipes/cautions.ts";
import { packagingKinds } from "./kinds.ts";

/** As part of a statement: a supply that goes into a bowl. */
export const isIngredient: SQL = inArray(supplies.kind, [...ingredientKinds]);

/** As part of a statement: a supply that pieces are packed with. */
export const isPacking: SQL = inArray(supplies.kind, [...packagingKinds]);

/** The kind of what goes into a bowl; of a recipe's parts it can be no other (trigger). */
export const ingredientKind: SQL<IngredientKind> = sql`${supplies.kind}`;
