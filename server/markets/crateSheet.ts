import { and, eq, gt } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { orderLines } from "../../db/schema/orders.ts";
import { blends, products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { readMoneyTerms, readPrices } from "../prices/quote.ts";
import { blendLook } from "../products/blendLook.ts";
import { byShapeAndShade, type MarketRow } from "./queries.ts";

/**
 * What goes into the crate of a market, as it is laid out on the stall: by shape, then by shade, with what a piece costs
 * there on the day; null while the market has no crate list.
 */
export async function readCrateSheet(db: Database, market: MarketRow) {
  const { orderId, customerId, heldOn } = market;
  if (orderId === null || market.orderState === "cancelled") return null;
  const lines = await db
    .select({
      productId: products.id,
      product: products.name,
      shape: shapes.name,
      look: blendLook,
      units: orderLines.units,
    })
    .from(orderLines)
    .innerJoin(products, eq(products.id, orderLines.productId))
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(and(eq(orderLines.orderId, orderId), gt(orderLines.units, 0)))
    .orderBy(...byShapeAndShade);
  const terms = await readMoneyTerms(db, customerId, { shipBy: heldOn });
  if (!terms) throw new Error(`Market ${market.id} has no customer`);
  const prices = await readPrices(db, {
    ...{ customerId, priceListId: terms.priceListId, day: heldOn },
    of: lines.map(({ productId }) => productId),
  });
  return {
    currency: terms.currency,
    lines: lines.map((line) => ({ ...line, priceMinor: prices.get(line.productId)?.unitPriceMinor ?? null })),
  };
}
