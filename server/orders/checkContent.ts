import { eq, inArray } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { products } from "../../db/schema/products.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import { MOST_DAYS_AHEAD, type OrderContent, type OrderTerms, usualTerms } from "./order.ts";
import type { ContentRefusal } from "./refusals.ts";
import { readShipBy } from "./shipByFor.ts";
import { promisableDates } from "./today.ts";

/** What an order held before a change: retired things and gone-by dates that it already has may stay. */
interface KeptContent {
  readonly customerId: number;
  readonly shipBy: string;
  readonly productIds: ReadonlySet<number>;
}

const NOTHING_KEPT: KeptContent = { customerId: 0, shipBy: "", productIds: new Set() };

/** The customer of an order with everything that is taken over from them. */
export interface OrderCustomer {
  readonly id: number;
  readonly name: string;
  readonly kind: "shop" | "market";
  readonly priorityWeight: number;
  readonly terms: OrderTerms;
  /** What the customer is usually given off an order, and charged for sending one. */
  readonly orderDiscountBasisPoints: number;
  readonly shippingMinor: number;
}

/** A content that can stand, with what follows from it. */
export interface CheckedContent {
  readonly customer: OrderCustomer;
  readonly shipBy: string;
}

/**
 * Holds the asked-for content against customers, products, the calendar and the currency. The reference is checked
 * elsewhere.
 */
export async function checkContent(
  transaction: Transaction,
  at: Date,
  content: OrderContent,
  kept: KeptContent = NOTHING_KEPT,
): Promise<Result<CheckedContent, ContentRefusal>> {
  const [customer] = await transaction
    .select()
    .from(customers)
    .where(eq(customers.id, content.customerId))
    .for("share");
  if (!customer) return refuse({ why: "customer-unknown" });
  if (customer.retiredAt && customer.id !== kept.customerId)
    return refuse({ why: "customer-retired", customer: customer.name });
  const wrong = await wrongProduct(transaction, content, kept);
  if (wrong) return refuse(wrong);
  const dated = await settleShipBy(transaction, at, content, kept);
  if (!dated.ok) return dated;
  if (content.currency !== undefined && (await holdCurrency(transaction)) !== content.currency)
    return refuse({ why: "currency-changed" });
  const { id, name, kind, priorityWeight, orderDiscountBasisPoints, shippingMinor } = customer;
  const terms = content.terms ?? usualTerms(customer);
  const facts = { id, name, kind, priorityWeight, terms, orderDiscountBasisPoints, shippingMinor };
  return ok({ customer: facts, shipBy: dated.value });
}

async function wrongProduct(
  transaction: Transaction,
  content: OrderContent,
  kept: KeptContent,
): Promise<ContentRefusal | null> {
  const asked = content.lines.map((line) => line.productId);
  const rows = await transaction
    .select({ id: products.id, name: products.name, retiredAt: products.retiredAt })
    .from(products)
    .where(inArray(products.id, asked))
    .orderBy(products.id)
    .for("share");
  const known = new Map(rows.map((row) => [row.id, row]));
  for (const [line, productId] of asked.entries()) {
    const product = known.get(productId);
    if (!product) return { why: "product-unknown", line };
    if (product.retiredAt && !kept.productIds.has(productId))
      return { why: "product-retired", line, product: product.name };
  }
  return null;
}

/** The date as it was typed, or the last on which it can leave to be there when it is needed. */
async function settleShipBy(
  transaction: Transaction,
  at: Date,
  { customerId, shipBy: typed, neededBy = null }: OrderContent,
  kept: KeptContent,
): Promise<Result<string, ContentRefusal>> {
  const shipBy = typed ?? (neededBy === null ? null : await readShipBy(transaction, customerId, neededBy));
  if (shipBy === null) return refuse({ why: "no-working-day" });
  if (shipBy === kept.shipBy) return ok(shipBy);
  const { today, last } = await promisableDates(transaction, at, MOST_DAYS_AHEAD);
  if (shipBy < today)
    return refuse(
      typed === null ? { why: "needed-too-soon", shipBy, today } : { why: "date-gone-by", today },
    );
  return shipBy > last ? refuse({ why: "date-too-far", last }) : ok(shipBy);
}
