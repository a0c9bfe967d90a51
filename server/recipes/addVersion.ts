import { eq, max } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { blends } from "../../db/schema/products.ts";
import { recipeParts, recipes } from "../../db/schema/recipes.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { VersionDraft } from "./forms.ts";
import { reckonVersion, type VersionRefusal } from "./reckonVersion.ts";

/**
 * Writes the next version of a blend's recipe; those before it stay as they are. The blend's row is held, so that two
 * who write at once get two versions.
 */
export async function addVersion(
  transaction: Transaction,
  actor: Actor,
  { blendId, ...draft }: VersionDraft & { readonly blendId: number },
): Promise<Result<{ readonly version: number }, VersionRefusal>> {
  const [blend] = await transaction
    .select({ id: blends.id })
    .from(blends)
    .where(eq(blends.id, blendId))
    .for("update");
  if (!blend) return refuse({ kind: "not-found" });
  const reckoned = await reckonVersion(transaction, draft);
  if (!reckoned.ok) return reckoned;
  const [last] = await transaction
    .select({ version: max(recipes.version) })
    .from(recipes)
    .where(eq(recipes.blendId, blendId));
  const version = (last?.version ?? 0) + 1;
  const { validFrom, category, note, writtenFor } = draft;
  const [row] = await transaction
    .insert(recipes)
    .values({
      ...{ blendId, version, validFrom, category, note },
      writtenForThousandths: writtenFor?.thousandths ?? null,
      writtenForUnit: writtenFor?.unit ?? null,
      createdAt: actor.at,
      createdBy: actor.personId,
    })
    .returning({ id: recipes.id });
  if (!row) throw new Error("The new recipe's row did not come back");
  await transaction.insert(recipeParts).values(
    reckoned.value.parts.map(({ written, ...part }, place) => ({
      ...part,
      ...{ recipeId: row.id, place },
      ...{ thousandths: written.thousandths, unit: written.unit },
    })),
  );
  await recordChange(transaction, actor, {
    subject: "recipe",
    subjectId: row.id,
    what: "written",
    after: { blendId, version, ...draft },
  });
  return ok({ version });
}
