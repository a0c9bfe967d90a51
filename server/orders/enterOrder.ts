import type { Transaction } from "../../db/connect.ts";
import { type Author, recordChange } from "../../db/recordChange.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { fixPrices } from "../prices/fixPrices.ts";
import { type CheckedContent, checkContent } from "./checkContent.ts";
import { readContent } from "./content.ts";
import { keepPromises } from "./keepPromise.ts";
import { type OrderContent, referenceLetter } from "./order.ts";
import { holdReferences, nextReference, referenceTaken } from "./references.ts";
import type { ContentRefusal } from "./refusals.ts";

/** Columns that an order has which nobody typed in at the desk: where it came from and what came with it. */
type Arrival = Pick<
  typeof orders.$inferInsert,
  "source" | "customerNote" | "stockistLinkId" | "shopReference"
>;

/** The content of a new order, and whether it is promised at once or waits as a draft. */
interface NewOrder extends OrderContent {
  readonly confirm: boolean;
  /** Left out: typed in at the desk. */
  readonly arrival?: Arrival;
}

/** Enters an order with its lines, as a draft or confirmed at once. Nobody of the house acts where it came by itself. */
export async function enterOrder(
  transaction: Transaction,
  actor: Author,
  newOrder: NewOrder,
): Promise<Result<{ readonly orderId: number; readonly reference: string }, ContentRefusal>> {
  await holdReferences(transaction);
  const checked = await checkContent(transaction, actor.at, newOrder);
  if (!checked.ok) return checked;
  const reference =
    newOrder.reference ?? (await nextReference(transaction, referenceLetter(checked.value.customer)));
  if (await referenceTaken(transaction, reference)) return refuse({ why: "reference-taken", reference });
  const orderId = await insertOrder(transaction, actor, { ...newOrder, reference }, checked.value);
  if (newOrder.confirm) await fixPrices(transaction, actor.at, [orderId]);
  await keepPromises(transaction, actor.at, [orderId]);
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: orderId,
    what: enteredWords(newOrder),
    after: await readContent(transaction, orderId),
  });
  return ok({ orderId, reference });
}

function enteredWords({ confirm, arrival }: NewOrder): string {
  if (arrival?.source === "standing") return "drafted from a standing order";
  if (arrival?.source === "stockist") return "sent from the shop's own order page";
  return confirm ? "entered and confirmed" : "entered";
}

async function insertOrder(
  transaction: Transaction,
  actor: Author,
  order: NewOrder & { readonly reference: string },
  { customer, shipBy }: CheckedContent,
): Promise<number> {
  const [row] = await transaction
    .insert(orders)
    .values({
      reference: order.reference,
      customerId: customer.id,
      terms: customer.terms,
      shipBy,
      neededBy: order.neededBy ?? null,
      customerReference: order.customerReference ?? "",
      weight: customer.priorityWeight,
      state: order.confirm ? "confirmed" : "draft",
      note: order.note,
      discountBasisPoints: order.discountBasisPoints ?? customer.orderDiscountBasisPoints,
      shippingMinor: order.shippingMinor ?? customer.shippingMinor,
      createdAt: actor.at,
      confirmedAt: order.confirm ? actor.at : null,
      ...order.arrival,
    })
    .returning({ id: orders.id });
  if (!row) throw new Error("The new order's row did not come back");
  await transaction.insert(orderLines).values(
    order.lines.map(({ productId, units, unitPriceMinor = null, discountBasisPoints = 0 }) => ({
      ...{ orderId: row.id, productId, units },
      ...{ unitPriceMinor, discountBasisPoints },
    })),
  );
  return row.id;
}
