import { eq, type SQL, sql } from "drizzle-orm";
import type { PgColumn, PgTable } from "drizzle-orm/pg-core";
import { ok, type Result, refuse } from "../server/basics/result.ts";
import type { Transaction } from "./connect.ts";
import { recordChange } from "./recordChange.ts";

/** A table whose rows can be put away without being lost: what refers to them stays readable. */
type Retirable = PgTable & { readonly id: PgColumn; readonly retiredAt: PgColumn };

/** The same as `setRetired`, for a command whose refusal is that there is no such row. */
export async function retireOrReturn(
  ...given: Parameters<typeof setRetired>
): Promise<Result<null, "not-found">> {
  return (await setRetired(...given)) ? ok(null) : refuse("not-found");
}

/**
 * Retires a row, or brings it back, and writes down the change; a row that is so already is left as it is.
 *
 * @returns false when there is no such row.
 */
export async function setRetired(
  transaction: Transaction,
  actor: { readonly personId: number | null; readonly at: Date },
  table: Retirable,
  row: { readonly subject: string; readonly id: number; readonly retired: boolean },
): Promise<boolean> {
  const found = await transaction
    .select({ retiredAt: table.retiredAt })
    .from(table as PgTable)
    .where(eq(table.id, row.id))
    .for("update");
  const [before] = found;
  if (!before) return false;
  if ((before.retiredAt !== null) === row.retired) return true;
  const retiredAt: SQL = row.retired ? sql`${actor.at.toISOString()}::timestamptz` : sql`null`;
  await transaction.execute(sql`update ${table} set retired_at = ${retiredAt} where id = ${row.id}`);
  await recordChange(transaction, actor, {
    subject: row.subject,
    subjectId: row.id,
    what: row.retired ? "retired" : "brought back",
  });
  return true;
}
