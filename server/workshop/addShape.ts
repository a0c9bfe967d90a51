import { sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { NewShape } from "./forms.ts";

/** Adds a shape. Names are compared without regard to capitals, so that no two shapes read alike. */
export async function addShape(
  transaction: Transaction,
  actor: Actor,
  shape: NewShape,
): Promise<Result<{ readonly shapeId: number }, "code-taken" | "name-taken">> {
  await transaction.execute(sql`lock table ${shapes} in share row exclusive mode`);
  const clash = await findClash(transaction, shape);
  if (clash) return refuse(clash);
  const [row] = await transaction.insert(shapes).values(shape).returning({ id: shapes.id });
  if (!row) throw new Error("The new shape's row did not come back");
  await recordChange(transaction, actor, {
    subject: "shape",
    subjectId: row.id,
    what: "added",
    after: shape,
  });
  return ok({ shapeId: row.id });
}

async function findClash(
  transaction: Transaction,
  { code, name }: NewShape,
): Promise<"code-taken" | "name-taken" | null> {
  const others = await transaction
    .select({ code: shapes.code })
    .from(shapes)
    .where(sql`${shapes.code} = ${code} or lower(${shapes.name}) = lower(${name})`);
  if (others.some((other) => other.code === code)) return "code-taken";
  return others.length > 0 ? "name-taken" : null;
}
