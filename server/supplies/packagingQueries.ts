import { and, asc, eq, isNull, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { packingParts } from "../../db/schema/supplyLots.ts";
import { isPacking } from "./ingredient.ts";
import type { PackagingKind } from "./kinds.ts";

const packagingColumns = {
  id: supplies.id,
  name: supplies.name,
  kind: sql<PackagingKind>`${supplies.kind}`,
  statement: supplies.statement,
  counted: supplies.counted,
  leastOnHand: supplies.leastOnHand,
  coverDays: supplies.coverDays,
  retiredAt: supplies.retiredAt,
  products: sql<number>`(select count(*) from ${packingParts} p where p.supply_id = supplies.id)::integer`,
};

/** Everything one packs with, in use first, each with the products it belongs to. */
export async function listPackaging(db: Database) {
  return await db
    .select(packagingColumns)
    .from(supplies)
    .where(isPacking)
    .orderBy(
      sql`${supplies.retiredAt} is not null`,
      asc(supplies.kind),
      asc(supplies.name),
      asc(supplies.id),
    );
}

export async function findPackaging(db: Database, supplyId: number) {
  const [row] = await db
    .select(packagingColumns)
    .from(supplies)
    .where(and(eq(supplies.id, supplyId), isPacking));
  return row;
}

/** What a packing list may be written from. */
export async function listPackagingChoices(db: Database) {
  return await db
    .select({ id: supplies.id, name: supplies.name })
    .from(supplies)
    .where(and(isNull(supplies.retiredAt), isPacking))
    .orderBy(asc(supplies.kind), asc(supplies.name), asc(supplies.id));
}

/** What a product's pieces are packed with. */
export async function readPackingList(db: Database, productId: number) {
  return await db
    .select({
      supplyId: packingParts.supplyId,
      name: supplies.name,
      amount: packingParts.amount,
      forPieces: packingParts.forPieces,
    })
    .from(packingParts)
    .innerJoin(supplies, eq(supplies.id, packingParts.supplyId))
    .where(eq(packingParts.productId, productId))
    .orderBy(asc(supplies.kind), asc(supplies.name), asc(supplies.id));
}
