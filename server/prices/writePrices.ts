import { and, eq, inArray, isNull, type SQL, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { listPrices, ownPrices } from "../../db/schema/prices.ts";
import { products } from "../../db/schema/products.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { minorUnits } from "../money/minorUnits.ts";
import type { SetPrice } from "./forms.ts";
import { holdCurrency } from "./holdCurrency.ts";
import { listPriceOn, ownPriceOn } from "./inForce.ts";

export type PriceRefusal = "not-found" | "currency-changed" | "product-unknown";

interface DatedPrices {
  /** ISO 4217: what the prices were typed in. */
  readonly currency: string;
  readonly validFrom: string;
  readonly prices: readonly SetPrice[];
}

/** Sets prices of a list from a date on; prices of other dates and orders that have theirs stay. */
export async function setListPrices(
  transaction: Transaction,
  actor: Actor,
  { priceListId, ...asked }: DatedPrices & { readonly priceListId: number },
): Promise<Result<null, PriceRefusal>> {
  const [list] = await transaction
    .select({ id: priceLists.id })
    .from(priceLists)
    .where(eq(priceLists.id, priceListId))
    .for("update");
  if (!list) return refuse("not-found");
  if (asked.prices.length === 0) return ok(null);
  const wrong = await cannotBePriced(transaction, asked);
  if (wrong) return refuse(wrong);
  const ofList = sql`${priceListId}::integer`;
  const before = await inForceBefore(transaction, asked, (productId, day) =>
    listPriceOn(ofList, productId, day),
  );
  await transaction
    .insert(listPrices)
    .values(asked.prices.map((price) => ({ ...price, priceListId, validFrom: asked.validFrom })))
    .onConflictDoUpdate({
      target: [listPrices.priceListId, listPrices.productId, listPrices.validFrom],
      set: { unitPriceMinor: sql`excluded.unit_price_minor` },
    });
  await recordChange(transaction, actor, {
    subject: "price list",
    subjectId: priceListId,
    what: "priced",
    before,
    after: asked,
  });
  return ok(null);
}

/** Sets what one customer pays from a date on, before any list. */
export async function setOwnPrices(
  transaction: Transaction,
  actor: Actor,
  { customerId, ...asked }: DatedPrices & { readonly customerId: number },
): Promise<Result<null, PriceRefusal>> {
  const [customer] = await transaction
    .select({ id: customers.id })
    .from(customers)
    .where(eq(customers.id, customerId))
    .for("update");
  if (!customer) return refuse("not-found");
  if (asked.prices.length === 0) return ok(null);
  const wrong = await cannotBePriced(transaction, asked);
  if (wrong) return refuse(wrong);
  const ofCustomer = sql`${customerId}::integer`;
  const before = await inForceBefore(transaction, asked, (productId, day) =>
    ownPriceOn(productId, day, ofCustomer),
  );
  await transaction
    .insert(ownPrices)
    .values(asked.prices.map((price) => ({ ...price, customerId, validFrom: asked.validFrom })))
    .onConflictDoUpdate({
      target: [ownPrices.customerId, ownPrices.productId, ownPrices.validFrom],
      set: { unitPriceMinor: sql`excluded.unit_price_minor` },
    });
  await recordChange(transaction, actor, {
    subject: "customer",
    subjectId: customerId,
    what: "priced",
    before,
    after: asked,
  });
  return ok(null);
}

/** Sets what making a piece of each product costs. */
export async function setMakingCosts(
  transaction: Transaction,
  actor: Actor,
  asked: Omit<DatedPrices, "validFrom">,
): Promise<Result<null, PriceRefusal>> {
  const wrong = await cannotBePriced(transaction, asked);
  if (wrong) return refuse(wrong);
  for (const { productId, unitPriceMinor } of asked.prices) {
    const [before] = await transaction
      .select({ makingCostMinor: products.makingCostMinor })
      .from(products)
      .where(eq(products.id, productId))
      .for("update");
    await transaction
      .update(products)
      .set({ makingCostMinor: unitPriceMinor })
      .where(eq(products.id, productId));
    await recordChange(transaction, actor, {
      subject: "product",
      subjectId: productId,
      what: "costed",
      before,
      after: { makingCostMinor: unitPriceMinor },
    });
  }
  return ok(null);
}

/** What held on the first day of the new prices until now, in the same shape: the history says before and after. */
async function inForceBefore(
  transaction: Transaction,
  { currency, validFrom, prices }: DatedPrices,
  priceOn: (productId: SQL, day: SQL) => SQL<number | null>,
): Promise<DatedPrices> {
  const price = priceOn(sql`${products.id}`, sql`${validFrom}::date`);
  const rows = await transaction
    .select({ productId: products.id, price: sql<string | null>`${price}` })
    .from(products)
    .where(
      inArray(
        products.id,
        prices.map(({ productId }) => productId),
      ),
    );
  const known = new Map(rows.map((row) => [row.productId, row.price]));
  return {
    ...{ currency, validFrom },
    prices: prices.map(({ productId }) => {
      const minor = known.get(productId) ?? null;
      return { productId, unitPriceMinor: minor === null ? null : minorUnits(BigInt(minor)) };
    }),
  };
}

async function cannotBePriced(
  transaction: Transaction,
  { currency, prices }: Pick<DatedPrices, "currency" | "prices">,
): Promise<"currency-changed" | "product-unknown" | null> {
  if ((await holdCurrency(transaction)) !== currency) return "currency-changed";
  const asked = prices.map(({ productId }) => productId);
  const known = await transaction.$count(
    products,
    and(inArray(products.id, asked), isNull(products.retiredAt)),
  );
  return known === asked.length ? null : "product-unknown";
}
