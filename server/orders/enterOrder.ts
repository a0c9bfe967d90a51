import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { fixPrices } from "../prices/fixPrices.ts";
import { checkContent, type OrderCustomer } from "./checkContent.ts";
import { readContent } from "./content.ts";
import { type OrderContent, referenceLetter } from "./order.ts";
import { holdReferences, nextReference, referenceTaken } from "./references.ts";
import type { ContentRefusal } from "./refusals.ts";

/** The content of a new order, and whether it is promised at once or waits as a draft. */
interface NewOrder extends OrderContent {
  readonly confirm: boolean;
}

/** Enters an order with its lines, as a draft or confirmed at once. */
export async function enterOrder(
  transaction: Transaction,
  actor: Actor,
  newOrder: NewOrder,
): Promise<Result<{ readonly orderId: number; readonly reference: string }, ContentRefusal>> {
  await holdReferences(transaction);
  const checked = await checkContent(transaction, actor.at, newOrder);
  if (!checked.ok) return checked;
  const reference = newOrder.reference ?? (await nextReference(transaction, referenceLetter(checked.value)));
  if (await referenceTaken(transaction, reference)) return refuse({ why: "reference-taken", reference });
  const orderId = await insertOrder(transaction, actor, { ...newOrder, reference }, checked.value);
  if (newOrder.confirm) await fixPrices(transaction, actor.at, [orderId]);
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: orderId,
    what: newOrder.confirm ? "entered and confirmed" : "entered",
    after: await readContent(transaction, orderId),
  });
  return ok({ orderId, reference });
}

async function insertOrder(
  transaction: Transaction,
  actor: Actor,
  order: NewOrder & { readonly reference: string },
  customer: OrderCustomer,
): Promise<number> {
  const [row] = await transaction
    .insert(orders)
    .values({
      reference: order.reference,
      customerId: customer.id,
      terms: customer.terms,
      shipBy: order.shipBy,
      weight: customer.priorityWeight,
      state: order.confirm ? "confirmed" : "draft",
      note: order.note,
      discountBasisPoints: customer.orderDiscountBasisPoints,
      shippingMinor: customer.shippingMinor,
      createdAt: actor.at,
      confirmedAt: order.confirm ? actor.at : null,
    })
    .returning({ id: orders.id });
  if (!row) throw new Error("The new order's row did not come back");
  await transaction
    .insert(orderLines)
    .values(order.lines.map(({ productId, units }) => ({ orderId: row.id, productId, units })));
  return row.id;
}
