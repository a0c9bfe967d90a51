import { isDeepStrictEqual } from "node:util";
import { and, eq, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { listedAllergens, scentLimits, supplies } from "../../db/schema/supplies.ts";
import { retireOrReturn } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { IngredientFacts } from "./forms.ts";
import { isIngredient } from "./ingredient.ts";
import { readStated } from "./queries.ts";

export type IngredientRefusal = "not-found" | "name-taken";

/** Adds an ingredient under a name of its own. */
export async function addIngredient(
  transaction: Transaction,
  actor: Actor,
  facts: IngredientFacts,
): Promise<Result<{ readonly supplyId: number }, IngredientRefusal>> {
  if (await nameTaken(transaction, facts.name)) return refuse("name-taken");
  const { limits, allergens, ...columns } = facts;
  const [row] = await transaction.insert(supplies).values(columns).returning({ id: supplies.id });
  if (!row) throw new Error("The new ingredient's row did not come back");
  await writeStated(transaction, row.id, { limits, allergens });
  await recordChange(transaction, actor, {
    subject: "supply",
    subjectId: row.id,
    what: "added",
    after: facts,
  });
  return ok({ supplyId: row.id });
}

/**
 * Changes what is known of an ingredient. Recipes stay as they were weighed: a density is used when a recipe is
 * written, not afterwards; what evaporates and what the supplier allows are judged anew wherever a recipe is shown.
 */
export async function changeIngredient(
  transaction: Transaction,
  actor: Actor,
  { supplyId, ...facts }: IngredientFacts & { readonly supplyId: number },
): Promise<Result<{ readonly supplyId: number }, IngredientRefusal>> {
  const taken = await nameTaken(transaction, facts.name, supplyId);
  const [row] = await transaction
    .select()
    .from(supplies)
    .where(and(eq(supplies.id, supplyId), isIngredient))
    .for("update");
  if (!row) return refuse("not-found");
  if (taken) return refuse("name-taken");
  const { id: _id, retiredAt: _retiredAt, ...columns } = row;
  const before = { ...columns, ...(await readStated(transaction, supplyId)) };
  const after = {
    ...facts,
    limits: facts.limits.toSorted((one, other) => (one.category < other.category ? -1 : 1)),
    allergens: facts.allergens.toSorted((one, other) => (one.name < other.name ? -1 : 1)),
  };
  if (isDeepStrictEqual(before, { ...before, ...after })) return ok({ supplyId });
  const { limits, allergens, ...changed } = after;
  await transaction.update(supplies).set(changed).where(eq(supplies.id, supplyId));
  await transaction.delete(scentLimits).where(eq(scentLimits.supplyId, supplyId));
  await transaction.delete(listedAllergens).where(eq(listedAllergens.supplyId, supplyId));
  await writeStated(transaction, supplyId, { limits, allergens });
  await recordChange(transaction, actor, {
    subject: "supply",
    subjectId: supplyId,
    what: "changed",
    before,
    after,
  });
  return ok({ supplyId });
}

/** Takes an ingredient out of the choices; recipes that use it stay as they are. */
export async function retireSupply(
  transaction: Transaction,
  actor: Actor,
  { supplyId }: { readonly supplyId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, supplies, { subject: "supply", id: supplyId, retired: true });
}

export async function bringBackSupply(
  transaction: Transaction,
  actor: Actor,
  { supplyId }: { readonly supplyId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, supplies, { subject: "supply", id: supplyId, retired: false });
}

/** Whether another supply has the name. Two at once would both take it. */
export async function nameTaken(transaction: Transaction, name: string, except = 0): Promise<boolean> {
  await transaction.execute(sql`lock table ${supplies} in share row exclusive mode`);
  const same = and(sql`lower(${supplies.name}) = lower(${name})`, ne(supplies.id, except));
  return (await transaction.$count(supplies, same)) > 0;
}

async function writeStated(
  transaction: Transaction,
  supplyId: number,
  { limits, allergens }: Pick<IngredientFacts, "limits" | "allergens">,
): Promise<void> {
  if (limits.length > 0)
    await transaction.insert(scentLimits).values(limits.map((limit) => ({ ...limit, supplyId })));
  if (allergens.length > 0)
    await transaction.insert(listedAllergens).values(allergens.map((one) => ({ ...one, supplyId })));
}
