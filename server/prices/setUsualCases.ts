import { and, asc, eq, isNull } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { casePacks } from "../../db/schema/customers.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { UsualCases } from "./forms.ts";

/** Sets in what multiples each shape is sold to everybody who has no case size of its own; null: singly. */
export async function setUsualCases(
  transaction: Transaction,
  actor: Actor,
  cases: UsualCases,
): Promise<Result<null, "shape-unknown">> {
  for (const { shapeId, units } of cases) {
    const [shape] = await transaction.select().from(shapes).where(eq(shapes.id, shapeId)).for("update");
    if (!shape) return refuse("shape-unknown");
    const forEverybody = and(eq(casePacks.shapeId, shapeId), isNull(casePacks.customerId));
    const [before] = await transaction.select({ units: casePacks.units }).from(casePacks).where(forEverybody);
    if ((before?.units ?? null) === units) continue;
    await transaction.delete(casePacks).where(forEverybody);
    if (units !== null) await transaction.insert(casePacks).values({ shapeId, units });
    await recordChange(transaction, actor, {
      subject: "shape",
      subjectId: shapeId,
      what: "packed in cases",
      before: { caseUnits: before?.units ?? null },
      after: { caseUnits: units },
    });
  }
  return ok(null);
}

/** The shapes in use by name, each with the case it is usually sold in; null: singly. */
export async function listUsualCases(db: Database) {
  return await db
    .select({ id: shapes.id, name: shapes.name, units: casePacks.units })
    .from(shapes)
    .leftJoin(casePacks, and(eq(casePacks.shapeId, shapes.id), isNull(casePacks.customerId)))
    .where(isNull(shapes.retiredAt))
    .orderBy(asc(shapes.name), asc(shapes.id));
}
