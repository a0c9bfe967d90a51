import type { Database, Transaction } from "../../db/connect.ts";
import type { TypedPieces } from "../http/piecesFields.ts";
import { type NearestCases, nearestCases } from "../prices/casePacks.ts";
import type { OrderMoney } from "../prices/priceOrder.ts";
import { quote } from "../prices/quote.ts";
import type { ShopRange } from "./shopRange.ts";

/** What stands in the way of an order of a shop, each beside its line or about the whole. */
export interface ShopObjections {
  readonly notOffered: readonly TypedPieces[];
  readonly notWholeCases: readonly (TypedPieces & {
    readonly caseUnits: number;
    readonly nearest: NearestCases;
  })[];
  /** The least the shop may order, where this is less. */
  readonly below:
    | { readonly leastUnits: number; readonly units: number }
    | { readonly leastMinor: number; readonly goodsMinor: number }
    | null;
}

export interface ReckonedShopOrder {
  readonly objections: ShopObjections;
  readonly units: number;
  /** Null: no prices are kept for this shop. */
  readonly money: OrderMoney | null;
}

/**
 * What the asked-for pieces come to for a shop, and what stands in the way. The least value is held against the goods
 * less the order's discount, stated as the shop's prices are, without shipping.
 *
 * @param shipBy the day whose tax rate holds, ISO 8601
 */
export async function reckonShopOrder(
  db: Database | Transaction,
  shop: { readonly customerId: number; readonly range: ShopRange },
  asked: { readonly today: string; readonly shipBy: string; readonly lines: readonly TypedPieces[] },
): Promise<ReckonedShopOrder> {
  const { customerId, range } = shop;
  const known = new Map(range.products.map((product) => [product.id, product]));
  const offered = asked.lines.filter(({ productId }) => known.has(productId));
  const isPriced = range.products.some(({ unitPriceMinor }) => unitPriceMinor !== null);
  const money = isPriced ? await quoteOf(db, customerId, { ...asked, lines: offered }) : null;
  const units = offered.reduce((sum, line) => sum + line.units, 0);
  return {
    objections: {
      notOffered: asked.lines.filter(({ productId }) => !known.has(productId)),
      notWholeCases: offered.flatMap((line) => {
        const caseUnits = known.get(line.productId)?.caseUnits ?? 1;
        const nearest = nearestCases(line.units, caseUnits);
        return nearest === null ? [] : [{ ...line, caseUnits, nearest }];
      }),
      below: belowLeast(range, units, money),
    },
    units,
    money,
  };
}

/** Whether anything has to be changed before it can be sent. */
export function isObjected({ notOffered, notWholeCases, below }: ShopObjections): boolean {
  return notOffered.length + notWholeCases.length > 0 || below !== null;
}

async function quoteOf(
  db: Database | Transaction,
  customerId: number,
  { today, shipBy, lines }: { today: string; shipBy: string; lines: readonly TypedPieces[] },
): Promise<OrderMoney | null> {
  const asked = lines.map(({ productId, units }) => ({
    ...{ productId, units },
    ...{ unitPriceMinor: null, discountBasisPoints: 0 },
  }));
  return (await quote(db, { customerId, today, shipBy, lines: asked })) ?? null;
}

function belowLeast(range: ShopRange, units: number, money: OrderMoney | null): ShopObjections["below"] {
  const { leastOrderUnits, leastOrderMinor } = range;
  if (leastOrderUnits !== null && units < leastOrderUnits) return { leastUnits: leastOrderUnits, units };
  if (leastOrderMinor === null || money === null) return null;
  const goodsMinor = money.totals.goodsMinor - money.totals.discountMinor;
  return goodsMinor < leastOrderMinor ? { leastMinor: leastOrderMinor, goodsMinor } : null;
}
