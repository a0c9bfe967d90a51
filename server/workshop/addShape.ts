import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { NewShape } from "./forms.ts";
import { findNameClash, type NameClash } from "./nameClash.ts";

/** Adds a shape under a name and a code of its own. */
export async function addShape(
  transaction: Transaction,
  actor: Actor,
  shape: NewShape,
): Promise<Result<{ readonly shapeId: number }, NameClash>> {
  const clash = await findNameClash(transaction, shapes, shape);
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
