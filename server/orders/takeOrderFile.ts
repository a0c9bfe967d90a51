import { sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { changes } from "../../db/schema/changes.ts";
import { customers } from "../../db/schema/customers.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { products } from "../../db/schema/products.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { fixPrices } from "../prices/fixPrices.ts";
import type { CheckedFile, FileOrder } from "./checkOrderFile.ts";
import type { WrittenContent } from "./content.ts";
import { examineOrderFile } from "./examineOrderFile.ts";
import type { KnownForFile } from "./knownForFile.ts";
import { holdReferences } from "./references.ts";

/** A file that cannot be taken, with what is needed to say why. */
interface FileRefusal {
  readonly checked: CheckedFile;
  readonly known: KnownForFile;
}

/**
 * Takes a file of orders, whole or not at all; its new orders are confirmed. Orders that are there already with the
 * same content are left as they are, so that taking a file twice makes nothing twice.
 */
export async function takeOrderFile(
  transaction: Transaction,
  actor: Actor,
  { file }: { readonly file: Buffer },
): Promise<Result<{ readonly taken: number; readonly takenBefore: number }, FileRefusal>> {
  await holdReferences(transaction);
  // No customer becomes a market, and nothing is retired, between the check and the rows.
  await transaction.execute(sql`lock table ${customers}, ${products} in share mode`);
  const { checked, known } = await examineOrderFile(transaction, actor.at, file);
  if (checked.mistakes.length > 0) return refuse({ checked, known });
  if (checked.fresh.length > 0) await insertOrders(transaction, actor, checked.fresh);
  return ok({ taken: checked.fresh.length, takenBefore: checked.takenBefore.length });
}

/**
 * One statement for all orders, one for all lines and one for all their changes, as one for each would be slow:
 * at most 5 000 rows in each, well within Postgres' 65 535 parameters.
 */
async function insertOrders(
  transaction: Transaction,
  actor: Actor,
  fresh: readonly FileOrder[],
): Promise<void> {
  const rows = await transaction
    .insert(orders)
    .values(
      fresh.map((order) => ({
        reference: order.reference,
        customerId: order.customer.id,
        terms: order.terms,
        shipBy: order.shipBy,
        weight: order.customer.priorityWeight,
        state: "confirmed" as const,
        createdAt: actor.at,
        confirmedAt: actor.at,
      })),
    )
    .returning({ id: orders.id, reference: orders.reference });
  const ids = new Map(rows.map((row) => [row.reference, row.id]));
  const withIds = fresh.map((order) => ({ order, orderId: idOf(ids, order) }));
  await transaction
    .insert(orderLines)
    .values(
      withIds.flatMap(({ order, orderId }) =>
        order.lines.map(({ product, units }) => ({ orderId, productId: product.id, units })),
      ),
    );
  await fixPrices(
    transaction,
    actor.at,
    withIds.map(({ orderId }) => orderId),
  );
  await transaction.insert(changes).values(
    withIds.map(({ order, orderId }) => ({
      ...actor,
      subject: "order",
      subjectId: orderId,
      what: "taken from a file and confirmed",
      after: writtenFrom(order),
    })),
  );
}

function idOf(ids: ReadonlyMap<string, number>, { reference }: FileOrder): number {
  const orderId = ids.get(reference);
  if (orderId === undefined) throw new Error(`The row of order ${reference} did not come back`);
  return orderId;
}

function writtenFrom(order: FileOrder): WrittenContent {
  return {
    reference: order.reference,
    customer: order.customer.name,
    terms: order.terms,
    shipBy: order.shipBy,
    note: "",
    lines: order.lines.map(({ product, units }) => ({ product: product.name, units })),
  };
}
