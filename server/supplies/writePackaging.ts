import { isDeepStrictEqual } from "node:util";
import { and, asc, eq, inArray, isNull } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { products } from "../../db/schema/products.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { packingParts } from "../../db/schema/supplyLots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { isPacking } from "./ingredient.ts";
import type { PackagingFacts, PackingList } from "./packagingForms.ts";
import { nameTaken } from "./writeIngredient.ts";

export type PackagingRefusal = "not-found" | "name-taken";

/** Adds something to pack with, under a name of its own. */
export async function addPackaging(
  transaction: Transaction,
  actor: Actor,
  facts: PackagingFacts,
): Promise<Result<{ readonly supplyId: number }, PackagingRefusal>> {
  if (await nameTaken(transaction, facts.name)) return refuse("name-taken");
  const [row] = await transaction.insert(supplies).values(facts).returning({ id: supplies.id });
  if (!row) throw new Error("The new packaging's row did not come back");
  await recordChange(transaction, actor, {
    subject: "supply",
    subjectId: row.id,
    what: "added",
    after: facts,
  });
  return ok({ supplyId: row.id });
}

export async function changePackaging(
  transaction: Transaction,
  actor: Actor,
  { supplyId, ...facts }: PackagingFacts & { readonly supplyId: number },
): Promise<Result<{ readonly supplyId: number }, PackagingRefusal>> {
  const taken = await nameTaken(transaction, facts.name, supplyId);
  const [row] = await transaction
    .select()
    .from(supplies)
    .where(and(eq(supplies.id, supplyId), isPacking))
    .for("update");
  if (!row) return refuse("not-found");
  if (taken) return refuse("name-taken");
  if (isDeepStrictEqual(row, { ...row, ...facts })) return ok({ supplyId });
  await transaction.update(supplies).set(facts).where(eq(supplies.id, supplyId));
  await recordChange(transaction, actor, {
    subject: "supply",
    subjectId: supplyId,
    what: "changed",
    before: row,
    after: facts,
  });
  return ok({ supplyId });
}

export type PackingListRefusal =
  | { readonly kind: "not-found" }
  /** Not in use, or nothing one packs with; `place` is the row of the form. */
  | { readonly kind: "packaging-unknown"; readonly place: number };

/** Says what a product's pieces are packed with from now on; what is packed already stays as it was booked. */
export async function setPackingList(
  transaction: Transaction,
  actor: Actor,
  { productId, packing }: { readonly productId: number; readonly packing: PackingList },
): Promise<Result<null, PackingListRefusal>> {
  const [product] = await transaction
    .select({ id: products.id })
    .from(products)
    .where(eq(products.id, productId))
    .for("update");
  if (!product) return refuse({ kind: "not-found" });
  const ids = packing.map(({ supplyId }) => supplyId);
  const known = await transaction
    .select({ id: supplies.id })
    .from(supplies)
    .where(and(inArray(supplies.id, ids), isPacking, isNull(supplies.retiredAt)))
    .orderBy(asc(supplies.id));
  const unknown = packing.find(({ supplyId }) => !known.some(({ id }) => id === supplyId));
  if (unknown) return refuse({ kind: "packaging-unknown", place: unknown.place });

  const before = await transaction
    .select({
      supplyId: packingParts.supplyId,
      amount: packingParts.amount,
      forPieces: packingParts.forPieces,
    })
    .from(packingParts)
    .where(eq(packingParts.productId, productId))
    .orderBy(asc(packingParts.supplyId));
  const after = packing
    .map(({ place: _place, ...part }) => part)
    .toSorted((one, other) => one.supplyId - other.supplyId);
  if (isDeepStrictEqual(before, after)) return ok(null);
  await transaction.delete(packingParts).where(eq(packingParts.productId, productId));
  if (after.length > 0)
    await transaction.insert(packingParts).values(after.map((part) => ({ ...part, productId })));
  await recordChange(transaction, actor, {
    subject: "product",
    subjectId: productId,
    what: "packing list changed",
    before,
    after,
  });
  return ok(null);
}
