import { asc, eq, isNull } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { blends, products } from "../../db/schema/products.ts";
import type { BlendLook } from "../../views/components/Swatch.tsx";
import { readCasePacks } from "../prices/casePacks.ts";
import { readMoneyTerms, readPrices } from "../prices/quote.ts";
import { blendLook } from "../products/blendLook.ts";

/** What one shop may order, and on which terms. */
export interface ShopRange {
  /** ISO 4217. */
  readonly currency: string;
  readonly pricesIncludeTax: boolean;
  readonly leastOrderMinor: number | null;
  readonly leastOrderUnits: number | null;
  /** By name. */
  readonly products: readonly ShopProduct[];
}

interface ShopProduct {
  readonly id: number;
  readonly name: string;
  readonly look: BlendLook;
  /** Null for all of them: this shop's prices are agreed elsewhere. */
  readonly unitPriceMinor: number | null;
  /** Pieces in a case; 1: sold singly. */
  readonly caseUnits: number;
}

/**
 * What is made and has a price for the shop today. Where nothing has, the workshop keeps no prices for it, and the
 * shop may order all that is made.
 */
export async function readShopRange(
  db: Database | Transaction,
  customerId: number,
  today: string,
): Promise<ShopRange> {
  const terms = await readMoneyTerms(db, customerId, { shipBy: today });
  if (!terms) throw new Error(`The shop ${customerId} of an open link is not there`);
  const { currency, pricesIncludeTax, leastOrderMinor, leastOrderUnits, priceListId } = terms;
  const prices = await readPrices(db, { customerId, priceListId, day: today });
  const cases = await readCasePacks(db, customerId);
  const rows = await db
    .select({ id: products.id, name: products.name, look: blendLook })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .where(isNull(products.retiredAt))
    .orderBy(asc(products.name), asc(products.id));
  return {
    ...{ currency, pricesIncludeTax, leastOrderMinor, leastOrderUnits },
    products: rows
      .filter(({ id }) => prices.size === 0 || prices.has(id))
      .map((row) => ({
        ...row,
        unitPriceMinor: prices.get(row.id)?.unitPriceMinor ?? null,
        caseUnits: cases.get(row.id) ?? 1,
      })),
  };
}
