import { asc, inArray, or, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { fileMeanings } from "../../db/schema/fileMeanings.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { products } from "../../db/schema/products.ts";
import { groupBy } from "../basics/groupBy.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { type FileMeaning, meaningKey } from "./fileNames.ts";
import { MOST_DAYS_AHEAD, type OrderedProduct, type OrderState, type OrderTerms } from "./order.ts";
import { readWorkingDays } from "./shipByFor.ts";
import { promisableDates } from "./today.ts";

/** What a file of orders is held against: who orders, what is made, which of its orders are there already. */
export interface KnownForFile {
  readonly today: string;
  /** The last date an order may be promised for. */
  readonly lastDate: string;
  /** ISO 4217: what the file's prices are in. */
  readonly currency: string;
  readonly worksOn: (date: string) => boolean;
  readonly customers: readonly KnownCustomer[];
  readonly products: readonly KnownProduct[];
  /** What texts that are nobody's name were said to mean, by `meaningKey`. */
  readonly meanings: ReadonlyMap<string, FileMeaning>;
  /** By `referenceKey`. */
  readonly orders: ReadonlyMap<string, KnownOrder>;
}

export interface KnownCustomer {
  readonly id: number;
  readonly name: string;
  readonly kind: "shop" | "market";
  readonly takesPartDeliveries: boolean;
  readonly priorityWeight: number;
  /** Working days under way. */
  readonly transitDays: number;
  readonly orderDiscountBasisPoints: number;
  readonly shippingMinor: number;
  readonly retired: boolean;
}

export interface KnownProduct {
  readonly id: number;
  readonly code: string;
  readonly name: string;
  readonly retired: boolean;
}

export interface KnownOrder {
  readonly id: number;
  readonly customerId: number;
  readonly terms: OrderTerms;
  readonly shipBy: string;
  readonly neededBy: string | null;
  readonly customerReference: string;
  readonly note: string;
  readonly state: OrderState;
  readonly lines: readonly OrderedProduct[];
}

/** References that differ only in capitals are the same. */
export function referenceKey(reference: string): string {
  return reference.toLowerCase();
}

/** Reads it in a handful of statements, whatever the size of the file. */
export async function loadKnownForFile(
  db: Database | Transaction,
  at: Date,
  references: readonly string[],
): Promise<KnownForFile> {
  const { today, last } = await promisableDates(db, at, MOST_DAYS_AHEAD);
  return {
    today,
    lastDate: last,
    currency: await readCurrency(db),
    worksOn: await readWorkingDays(db),
    meanings: await loadMeanings(db),
    customers: await db
      .select({
        id: customers.id,
        name: customers.name,
        kind: customers.kind,
        takesPartDeliveries: customers.takesPartDeliveries,
        priorityWeight: customers.priorityWeight,
        transitDays: customers.transitDays,
        orderDiscountBasisPoints: customers.orderDiscountBasisPoints,
        shippingMinor: customers.shippingMinor,
        retired: sql<boolean>`${customers.retiredAt} is not null`,
      })
      .from(customers)
      .orderBy(asc(customers.name), asc(customers.id)),
    products: await db
      .select({
        id: products.id,
        code: products.code,
        name: products.name,
        retired: sql<boolean>`${products.retiredAt} is not null`,
      })
      .from(products)
      .orderBy(asc(products.code)),
    orders: await loadOrders(db, references),
  };
}

async function loadMeanings(db: Database | Transaction): Promise<ReadonlyMap<string, FileMeaning>> {
  const rows = await db.select().from(fileMeanings).orderBy(asc(fileMeanings.id));
  return new Map(
    rows.map(({ what, writtenAs, customerId, productId }) => {
      const id = customerId ?? productId;
      return [meaningKey(what, writtenAs), id === null ? "leave-out" : { id }];
    }),
  );
}

async function loadOrders(
  db: Database | Transaction,
  references: readonly string[],
): Promise<ReadonlyMap<string, KnownOrder>> {
  if (references.length === 0) return new Map();
  const keys = [...new Set(references.map(referenceKey))];
  const heads = await db
    .select({
      reference: orders.reference,
      id: orders.id,
      customerId: orders.customerId,
      terms: orders.terms,
      shipBy: orders.shipBy,
      neededBy: orders.neededBy,
      customerReference: orders.customerReference,
      note: orders.note,
      state: orders.state,
    })
    .from(orders)
    .where(or(inArray(sql`lower(${orders.reference})`, keys), inArray(orders.reference, [...references])))
    .orderBy(asc(orders.id));
  const lines = await loadLines(
    db,
    heads.map((head) => head.id),
  );
  return new Map(
    heads.map(({ reference, ...head }) => [
      referenceKey(reference),
      { ...head, lines: lines.get(head.id) ?? [] },
    ]),
  );
}

async function loadLines(
  db: Database | Transaction,
  orderIds: readonly number[],
): Promise<ReadonlyMap<number, readonly OrderedProduct[]>> {
  if (orderIds.length === 0) return new Map();
  const rows = await db
    .select({
      orderId: orderLines.orderId,
      productId: orderLines.productId,
      units: orderLines.units,
      unitPriceMinor: orderLines.unitPriceMinor,
    })
    .from(orderLines)
    .where(inArray(orderLines.orderId, [...orderIds]))
    .orderBy(asc(orderLines.id));
  return groupBy(rows, (row) => row.orderId);
}
