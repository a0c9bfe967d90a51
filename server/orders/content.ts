import { createHash } from "node:crypto";
import { and, asc, eq, gt, sql } from "drizzle-orm";
import { z } from "zod";
import type { Database, Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { products } from "../../db/schema/products.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { orderTerms } from "./order.ts";

/**
 * The content of an order as it is written into its history: names beside the ids, so that a change can be read
 * years later, whatever was renamed since.
 */
export const writtenContent = z.object({
  reference: z.string(),
  customer: z.string(),
  terms: z.enum(orderTerms),
  shipBy: z.string(),
  note: z.string(),
  lines: z.array(
    z.object({
      product: z.string(),
      units: z.number(),
      // Entries written before orders had money have none of what is optional here.
      unitPriceMinor: z.number().nullable().optional(),
      discountBasisPoints: z.number().optional(),
    }),
  ),
  neededBy: z.string().nullable().optional(),
  customerReference: z.string().optional(),
  /** ISO 4217, of the amounts beside it. */
  currency: z.string().optional(),
  discountBasisPoints: z.number().optional(),
  shippingMinor: z.number().optional(),
});

export type WrittenContent = z.output<typeof writtenContent>;

/** The content of an order as it stands in the tables now, lines in the order they were entered. */
export async function readContent(db: Database | Transaction, orderId: number): Promise<WrittenContent> {
  const [head] = await db
    .select({
      reference: orders.reference,
      customer: customers.name,
      terms: orders.terms,
      shipBy: orders.shipBy,
      note: orders.note,
      neededBy: orders.neededBy,
      customerReference: orders.customerReference,
      currency: sql<string>`coalesce(${orders.currency}, ${workshop.currency})`,
      discountBasisPoints: orders.discountBasisPoints,
      shippingMinor: orders.shippingMinor,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .innerJoin(workshop, sql`true`)
    .where(eq(orders.id, orderId));
  if (!head) throw new Error(`Order ${orderId} is not there`);
  const lines = await db
    .select({
      product: products.name,
      units: orderLines.units,
      unitPriceMinor: orderLines.unitPriceMinor,
      discountBasisPoints: orderLines.discountBasisPoints,
    })
    .from(orderLines)
    .innerJoin(products, eq(products.id, orderLines.productId))
    .where(and(eq(orderLines.orderId, orderId), gt(orderLines.units, 0)))
    .orderBy(asc(orderLines.id));
  return { ...head, lines };
}

/** What tells one content of an order from another; a form carries it to notice that somebody else was faster. */
interface Comparable {
  readonly draft: boolean;
  readonly reference: string;
  readonly customerId: number;
  readonly terms: string;
  readonly shipBy: string;
  readonly note: string;
  readonly neededBy: string | null;
  readonly customerReference: string;
  readonly discountBasisPoints: number;
  readonly shippingMinor: number;
  readonly lines: readonly {
    readonly productId: number;
    readonly units: number;
    readonly unitPriceMinor: number | null;
    readonly discountBasisPoints: number;
  }[];
}

/** 32 hexadecimal digits; equal for equal content, whatever order the lines stand in. */
export function fingerprintOf(order: Comparable): string {
  const lines = order.lines
    .filter((line) => line.units > 0)
    .map((line) => [line.productId, line.units, line.unitPriceMinor, line.discountBasisPoints] as const)
    .sort(([one], [other]) => one - other);
  const facts = [
    order.draft,
    order.reference,
    order.customerId,
    order.terms,
    order.shipBy,
    order.note,
    order.neededBy,
    order.customerReference,
    order.discountBasisPoints,
    order.shippingMinor,
    lines,
  ];
  return createHash("sha256").update(JSON.stringify(facts)).digest("hex").slice(0, 32);
}
