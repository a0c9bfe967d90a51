import { and, eq, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { boxHolds, boxSizes } from "../../db/schema/boxSizes.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { retireOrReturn } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { BoxSizeFacts } from "./boxSizeForms.ts";

export type BoxSizeRefusal = "not-found" | "name-taken" | "no-such-shape";

/** Adds a size of box. No two have the same name, however it is capitalised. */
export async function addBoxSize(
  transaction: Transaction,
  actor: Actor,
  facts: BoxSizeFacts,
): Promise<Result<{ readonly boxSizeId: number }, BoxSizeRefusal>> {
  const refusal = await whatIsWrong(transaction, facts, 0);
  if (refusal) return refuse(refusal);
  const [row] = await transaction.insert(boxSizes).values(facts.size).returning({ id: boxSizes.id });
  if (!row) throw new Error("The new box's row did not come back");
  await writeHolds(transaction, row.id, facts);
  const change = { subject: "box size", subjectId: row.id, what: "added", after: facts };
  await recordChange(transaction, actor, change);
  return ok({ boxSizeId: row.id });
}

/** Changes a size of box; what left in it before is not reckoned anew. */
export async function changeBoxSize(
  transaction: Transaction,
  actor: Actor,
  { boxSizeId, ...facts }: BoxSizeFacts & { readonly boxSizeId: number },
): Promise<Result<{ readonly boxSizeId: number }, BoxSizeRefusal>> {
  const refusal = await whatIsWrong(transaction, facts, boxSizeId);
  const [row] = await transaction.select().from(boxSizes).where(eq(boxSizes.id, boxSizeId)).for("update");
  if (!row) return refuse("not-found");
  if (refusal) return refuse(refusal);
  const { id, retiredAt, ...size } = row;
  const before = { size, holds: await holdsOf(transaction, boxSizeId) };
  await transaction.update(boxSizes).set(facts.size).where(eq(boxSizes.id, boxSizeId));
  await transaction.delete(boxHolds).where(eq(boxHolds.boxSizeId, boxSizeId));
  await writeHolds(transaction, boxSizeId, facts);
  const change = { subject: "box size", subjectId: boxSizeId, what: "changed", before, after: facts };
  await recordChange(transaction, actor, change);
  return ok({ boxSizeId });
}

/** It is not suggested any more. */
export async function retireBoxSize(
  transaction: Transaction,
  actor: Actor,
  { boxSizeId }: { readonly boxSizeId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, boxSizes, { subject: "box size", id: boxSizeId, retired: true });
}

export async function bringBackBoxSize(
  transaction: Transaction,
  actor: Actor,
  { boxSizeId }: { readonly boxSizeId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, boxSizes, { subject: "box size", id: boxSizeId, retired: false });
}

/** Names are given one at a time, so that two people cannot give the same one at once. */
async function whatIsWrong(
  transaction: Transaction,
  { size, holds }: BoxSizeFacts,
  besides: number,
): Promise<BoxSizeRefusal | null> {
  await transaction.execute(sql`lock table ${boxSizes} in share row exclusive mode`);
  const another = and(ne(boxSizes.id, besides), sql`lower(${boxSizes.name}) = lower(${size.name})`);
  if ((await transaction.$count(boxSizes, another)) > 0) return "name-taken";
  const known = new Set((await transaction.select({ id: shapes.id }).from(shapes)).map(({ id }) => id));
  return holds.every(({ shapeId }) => known.has(shapeId)) ? null : "no-such-shape";
}

async function writeHolds(transaction: Transaction, boxSizeId: number, { holds }: BoxSizeFacts) {
  if (holds.length > 0)
    await transaction.insert(boxHolds).values(holds.map((held) => ({ boxSizeId, ...held })));
}

async function holdsOf(transaction: Transaction, boxSizeId: number) {
  return await transaction
    .select({ shapeId: boxHolds.shapeId, units: boxHolds.units })
    .from(boxHolds)
    .where(eq(boxHolds.boxSizeId, boxSizeId))
    .orderBy(boxHolds.shapeId);
}
