import { and, asc, inArray } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { orders } from "../../db/schema/orders.ts";
import { ok, type Result } from "../basics/result.ts";
import { type BuiltCase, buildCase, type NoCase } from "./buildCase.ts";
import { loadFacts } from "./loadFacts.ts";
import { type Change, whatChanged } from "./whatChanged.ts";

/** What has changed since a question was put, as far as it matters to its plan; or why there is nothing to plan any more. */
export async function changesSince(
  transaction: Transaction,
  then: BuiltCase,
  now: Date,
): Promise<Result<readonly Change[], NoCase>> {
  const today = buildCase(await loadFacts(transaction), now);
  if (!today.ok) return today;
  const rows = await transaction
    .select({ reference: orders.reference })
    .from(orders)
    .where(
      and(
        inArray(
          orders.reference,
          then.planCase.orders.map(({ id }) => id),
        ),
        inArray(orders.state, ["draft", "cancelled"]),
      ),
    )
    .orderBy(asc(orders.reference));
  const called = new Set(rows.map(({ reference }) => reference));
  return ok(whatChanged(then, today.value, { called, now }));
}
