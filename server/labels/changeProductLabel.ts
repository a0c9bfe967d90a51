import { and, eq, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { labelMaker } from "../../db/schema/labels.ts";
import { products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { dryMilligrams } from "../recipes/drying.ts";
import { recipeOn } from "../recipes/inForce.ts";
import { readParts } from "../recipes/queries.ts";
import { productNumbers } from "./gs1.ts";

export type ProductLabelRefusal =
  | { readonly kind: "not-found" }
  | { readonly kind: "no-recipe" | "no-prefix" }
  | { readonly kind: "above-dry"; readonly dryMilligrams: number }
  | { readonly kind: "no-room"; readonly numbers: number }
  | { readonly kind: "number-taken"; readonly product: string };

interface ProductLabel {
  readonly productId: number;
  /** Null for as much as a dry piece weighs. */
  readonly declaredMilligrams: number | null;
  readonly gs1Number: number | null;
  /** From the day a piece is made; null where the owner does not say. */
  readonly durabilityMonths: number | null;
}

/**
 * Says what a product's labels declare, how long its pieces keep, and its number under the shop's prefix. Never more than a
 * piece weighs dry by the recipe that holds on `today`, nor a number another product has.
 */
export async function changeProductLabel(
  transaction: Transaction,
  actor: Actor,
  { productId, today, ...after }: ProductLabel & { readonly today: string },
): Promise<Result<null, ProductLabelRefusal>> {
  const [row] = await transaction
    .select({
      product: products,
      pieceMilligrams: shapes.pieceMilligrams,
      recipeId: recipeOn(sql`${products.blendId}`, sql`${today}::date`),
    })
    .from(products)
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(eq(products.id, productId))
    .for("update", { of: products });
  if (!row) return refuse({ kind: "not-found" });
  const { declaredMilligrams, gs1Number, durabilityMonths } = row.product;
  const before = { declaredMilligrams, gs1Number, durabilityMonths };
  const wrong =
    (await declaredTooMuch(transaction, { ...row, declared: after.declaredMilligrams })) ??
    (await numberRefused(transaction, productId, after.gs1Number));
  if (wrong) return refuse(wrong);
  if (
    before.declaredMilligrams === after.declaredMilligrams &&
    before.gs1Number === after.gs1Number &&
    before.durabilityMonths === after.durabilityMonths
  )
    return ok(null);
  await transaction.update(products).set(after).where(eq(products.id, productId));
  await recordChange(transaction, actor, {
    subject: "product",
    subjectId: productId,
    what: "changed",
    before,
    after,
  });
  return ok(null);
}

async function declaredTooMuch(
  transaction: Transaction,
  given: {
    readonly recipeId: number | null;
    readonly pieceMilligrams: number;
    readonly declared: number | null;
  },
): Promise<ProductLabelRefusal | null> {
  const { recipeId, pieceMilligrams, declared } = given;
  if (declared === null) return null;
  if (recipeId === null) return { kind: "no-recipe" };
  const parts = (await readParts(transaction, [recipeId])).get(recipeId) ?? [];
  const dry = dryMilligrams(parts, pieceMilligrams);
  return declared > dry ? { kind: "above-dry", dryMilligrams: dry } : null;
}

async function numberRefused(
  transaction: Transaction,
  productId: number,
  gs1Number: number | null,
): Promise<ProductLabelRefusal | null> {
  if (gs1Number === null) return null;
  // One number after the other, and none while the prefix changes.
  await transaction.execute(sql`lock table ${labelMaker} in share row exclusive mode`);
  const [maker] = await transaction.select({ prefix: labelMaker.gs1Prefix }).from(labelMaker);
  if (!maker?.prefix) return { kind: "no-prefix" };
  const numbers = productNumbers(maker.prefix);
  if (gs1Number >= numbers) return { kind: "no-room", numbers };
  const [other] = await transaction
    .select({ product: products.name })
    .from(products)
    .where(and(eq(products.gs1Number, gs1Number), ne(products.id, productId)));
  return other ? { kind: "number-taken", product: other.product } : null;
}
