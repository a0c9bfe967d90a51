import { and, eq, isNull } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { traysFor } from "./lot.ts";
import { newLotCode } from "./lotCode.ts";

/** Pieces that came to be outside any plan: what stood on the shelf, or lay drying, when the tool was taken up. */
export type AddedStock =
  | { readonly kind: "ready"; readonly productId: number; readonly units: number }
  | {
      readonly kind: "drying";
      readonly productId: number;
      readonly units: number;
      /** Earliest time it may leave the mold; null when it is out already and only rests. */
      readonly unmoldDueAt: Date | null;
      /** Earliest time it may be packed; not before it leaves the mold. */
      readonly readyDueAt: Date;
    };

export type StockRefusal = "no-such-product" | "ready-before-unmolded";

/** Enters pieces by hand as a new lot without a run. */
export async function addStock(
  transaction: Transaction,
  actor: Actor,
  stock: AddedStock,
): Promise<Result<{ readonly lotId: number; readonly code: string }, StockRefusal>> {
  const [product] = await transaction
    .select({ unitsPerTray: shapes.unitsPerTray })
    .from(products)
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .where(and(eq(products.id, stock.productId), isNull(products.retiredAt)));
  if (!product) return refuse("no-such-product");
  if (stock.kind === "drying" && stock.unmoldDueAt !== null && stock.readyDueAt < stock.unmoldDueAt) {
    return refuse("ready-before-unmolded");
  }
  const code = await newLotCode(transaction);
  const lotId = await insertLot(transaction, {
    ...stateAndTimes(stock, actor.at),
    code,
    productId: stock.productId,
    trays: stock.kind === "ready" ? 0 : traysFor(stock.units, product.unitsPerTray),
    createdAt: actor.at,
  });
  await transaction.insert(moves).values({
    lotId,
    kind: "made",
    units: stock.units,
    note: "entered by hand",
    at: actor.at,
    personId: actor.personId,
  });
  await recordChange(transaction, actor, {
    subject: "lot",
    subjectId: lotId,
    what: "entered by hand",
    after: { code, ...stock },
  });
  return ok({ lotId, code });
}

/** When it was really formed nobody knows any more; the time of the entry stands for it. */
function stateAndTimes(stock: AddedStock, at: Date) {
  if (stock.kind === "ready") {
    return {
      state: "ready",
      formedAt: at,
      unmoldDueAt: at,
      readyDueAt: at,
      unmoldedAt: at,
      readyAt: at,
    } as const;
  }
  const { unmoldDueAt, readyDueAt } = stock;
  return unmoldDueAt === null
    ? ({ state: "resting", formedAt: at, unmoldDueAt: at, readyDueAt, unmoldedAt: at } as const)
    : ({ state: "drying", formedAt: at, unmoldDueAt, readyDueAt } as const);
}

async function insertLot(transaction: Transaction, values: typeof lots.$inferInsert): Promise<number> {
  const [row] = await transaction.insert(lots).values(values).returning({ id: lots.id });
  if (!row) throw new Error("The new lot's row did not come back");
  return row.id;
}
