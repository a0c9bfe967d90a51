import { isDeepStrictEqual } from "node:util";
import { desc, isNotNull, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { labelMaker } from "../../db/schema/labels.ts";
import { products } from "../../db/schema/products.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { LabelMakerFacts } from "./forms.ts";
import { productNumbers } from "./gs1.ts";

/** A product that has a number already, for which another prefix would have no room. */
export interface NumberInTheWay {
  readonly product: string;
  readonly gs1Number: number;
}

/** Says who stands on every label and by whose rules it is looked over, the first time or anew. */
export async function changeLabelMaker(
  transaction: Transaction,
  actor: Actor,
  facts: LabelMakerFacts,
): Promise<Result<null, NumberInTheWay>> {
  // There may be no row to lock yet. Who gives a product its number waits here too.
  await transaction.execute(sql`lock table ${labelMaker} in share row exclusive mode`);
  const [row] = await transaction.select().from(labelMaker);
  const inTheWay = await findNumberInTheWay(transaction, facts.gs1Prefix);
  if (inTheWay) return refuse(inTheWay);
  if (row && isDeepStrictEqual(row, { ...row, ...facts })) return ok(null);
  await transaction
    .insert(labelMaker)
    .values(facts)
    .onConflictDoUpdate({ target: labelMaker.id, set: facts });
  await recordChange(transaction, actor, {
    subject: "labels",
    subjectId: 1,
    what: row ? "changed" : "set up",
    ...(row && { before: row }),
    after: facts,
  });
  return ok(null);
}

/** The product with the highest number, where the prefix has none so high or there is to be no prefix at all. */
async function findNumberInTheWay(
  transaction: Transaction,
  prefix: string | null,
): Promise<NumberInTheWay | null> {
  const [highest] = await transaction
    .select({ product: products.name, gs1Number: products.gs1Number })
    .from(products)
    .where(isNotNull(products.gs1Number))
    .orderBy(desc(products.gs1Number))
    .limit(1);
  if (!highest || highest.gs1Number === null) return null;
  const room = prefix === null ? 0 : productNumbers(prefix);
  return highest.gs1Number < room ? null : { product: highest.product, gs1Number: highest.gs1Number };
}
