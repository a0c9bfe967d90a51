import { and, eq, ne, or, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import type { blends } from "../../db/schema/products.ts";
import type { shapes } from "../../db/schema/workshop.ts";

/** A name or a code that another shape, or another blend, has already. */
export type NameClash = "name-taken" | "code-taken";

/**
 * Holds a table of named things until the transaction ends, so that no other name comes in between, and tells whether
 * a name (without regard to capitals, so that no two things read alike) or a code is taken there.
 *
 * @param wanted the code of a new thing, or the id of the thing that is being renamed
 */
export async function findNameClash(
  transaction: Transaction,
  table: typeof shapes | typeof blends,
  wanted: { readonly name: string; readonly code: string } | { readonly name: string; readonly id: number },
): Promise<NameClash | null> {
  await transaction.execute(sql`lock table ${table} in share row exclusive mode`);
  const sameName = sql<boolean>`lower(${table.name}) = lower(${wanted.name})`;
  const clashes =
    "id" in wanted ? and(ne(table.id, wanted.id), sameName) : or(sameName, eq(table.code, wanted.code));
  const others = await transaction.select({ sameName }).from(table).where(clashes);
  if (others.length === 0) return null;
  return others.some((other) => other.sameName) ? "name-taken" : "code-taken";
}
