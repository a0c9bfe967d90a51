import { and, eq, inArray, isNull } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { products } from "../../db/schema/products.ts";
import { standingOrderLines, standingOrders } from "../../db/schema/standingOrders.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { StandingContent } from "./forms.ts";
import { listStandingLines } from "./queries.ts";

type Refusal =
  | { readonly why: "not-found" | "stopped" | "no-such-shop" }
  | { readonly why: "product-gone"; readonly productId: number };

type Written = Result<{ readonly id: number }, Refusal>;

/** Takes up a standing order of a shop. Its first drafts are made when somebody next looks. */
export async function addStandingOrder(
  transaction: Transaction,
  actor: Actor,
  { customerId, ...content }: StandingContent & { readonly customerId: number },
): Promise<Written> {
  const [shop] = await transaction
    .select({ id: customers.id })
    .from(customers)
    .where(and(eq(customers.id, customerId), eq(customers.kind, "shop"), isNull(customers.retiredAt)))
    .for("share");
  if (!shop) return refuse({ why: "no-such-shop" });
  const gone = await goneProduct(transaction, content, []);
  if (gone) return refuse(gone);
  const { lines, ...facts } = content;
  const [row] = await transaction
    .insert(standingOrders)
    .values({ customerId, ...facts, createdAt: actor.at, createdBy: actor.personId })
    .returning({ id: standingOrders.id });
  if (!row) throw new Error("The new standing order's row did not come back");
  await writeLines(transaction, row.id, lines);
  await recordChange(transaction, actor, {
    subject: "standing order",
    subjectId: row.id,
    what: "taken up",
    after: { customerId, ...facts, lines: await listStandingLines(transaction, row.id) },
  });
  return ok(row);
}

/** Changes what comes when; drafts that were made stay as they are. */
export async function changeStandingOrder(
  transaction: Transaction,
  actor: Actor,
  { id, ...content }: StandingContent & { readonly id: number },
): Promise<Written> {
  const [before] = await transaction
    .select()
    .from(standingOrders)
    .where(eq(standingOrders.id, id))
    .for("update");
  if (!before) return refuse({ why: "not-found" });
  if (before.stoppedAt) return refuse({ why: "stopped" });
  const linesBefore = await listStandingLines(transaction, id);
  const gone = await goneProduct(
    transaction,
    content,
    linesBefore.map(({ productId }) => productId),
  );
  if (gone) return refuse(gone);
  const { lines, ...facts } = content;
  await transaction.update(standingOrders).set(facts).where(eq(standingOrders.id, id));
  await transaction.delete(standingOrderLines).where(eq(standingOrderLines.standingOrderId, id));
  await writeLines(transaction, id, lines);
  await recordChange(transaction, actor, {
    subject: "standing order",
    subjectId: id,
    what: "changed",
    before: { ...before, lines: linesBefore },
    after: { ...facts, lines: await listStandingLines(transaction, id) },
  });
  return ok({ id });
}

/** The first line whose product is not there, or is no longer made and was not among the `kept`. */
async function goneProduct(
  transaction: Transaction,
  { lines }: StandingContent,
  kept: readonly number[],
): Promise<Refusal | null> {
  const rows = await transaction
    .select({ id: products.id, retiredAt: products.retiredAt })
    .from(products)
    .where(
      inArray(
        products.id,
        lines.map(({ productId }) => productId),
      ),
    )
    .orderBy(products.id)
    .for("share");
  const there = new Set(
    rows.filter(({ id, retiredAt }) => !retiredAt || kept.includes(id)).map(({ id }) => id),
  );
  const gone = lines.find(({ productId }) => !there.has(productId));
  return gone ? { why: "product-gone", productId: gone.productId } : null;
}

async function writeLines(
  transaction: Transaction,
  standingOrderId: number,
  lines: StandingContent["lines"],
): Promise<void> {
  await transaction
    .insert(standingOrderLines)
    .values(lines.map(({ productId, units }) => ({ standingOrderId, productId, units })));
}
