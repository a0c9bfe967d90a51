import { and, eq, isNull, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { listPrices } from "../../db/schema/prices.ts";
import { products } from "../../db/schema/products.ts";
import { retireOrReturn } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { BASIS_POINTS, roundHalfUp } from "../money/exactShares.ts";
import type { NewPriceList, PriceListHead } from "./forms.ts";
import { holdCurrency } from "./holdCurrency.ts";
import { listPriceOn } from "./inForce.ts";

export type PriceListRefusal =
  | "not-found"
  | "name-taken"
  | "copy-unknown"
  | "copy-too-dear"
  | "in-use"
  | "usual-stays-in-use";

/** Dearest price of a piece, in minor units. */
const MOST_PRICE = 10_000_000n;

/** Adds a list, empty or with the prices another list has on the day it begins, each so many per cent of it. */
export async function addPriceList(
  transaction: Transaction,
  actor: Actor,
  { copy, validFrom, ...head }: NewPriceList,
): Promise<Result<{ readonly priceListId: number }, PriceListRefusal>> {
  await holdLists(transaction);
  await holdCurrency(transaction);
  if (await nameTaken(transaction, head.name)) return refuse("name-taken");
  const copied = copy === null ? [] : await copiedPrices(transaction, copy, validFrom);
  if (copied === null) return refuse("copy-unknown");
  if (copied.some(({ unitPriceMinor }) => unitPriceMinor > MOST_PRICE)) return refuse("copy-too-dear");
  if (head.usual) await noLongerUsual(transaction, head.kind);
  const [row] = await transaction.insert(priceLists).values(head).returning({ id: priceLists.id });
  if (!row) throw new Error("The new price list's row did not come back");
  const prices = copied.map(({ productId, unitPriceMinor }) => ({
    productId,
    unitPriceMinor: Number(unitPriceMinor),
  }));
  if (prices.length > 0)
    await transaction
      .insert(listPrices)
      .values(prices.map((price) => ({ ...price, priceListId: row.id, validFrom })));
  await recordChange(transaction, actor, {
    subject: "price list",
    subjectId: row.id,
    what: "added",
    after: { ...head, validFrom, copy, prices },
  });
  return ok({ priceListId: row.id });
}

/** Renames a list, or makes it the usual one of its kind; the one before is then no longer usual. */
export async function changePriceList(
  transaction: Transaction,
  actor: Actor,
  { priceListId, name, usual }: PriceListHead & { readonly priceListId: number },
): Promise<Result<null, PriceListRefusal>> {
  await holdLists(transaction);
  const [row] = await transaction.select().from(priceLists).where(eq(priceLists.id, priceListId));
  if (!row) return refuse("not-found");
  if (row.name === name && row.usual === usual) return ok(null);
  if (await nameTaken(transaction, name, priceListId)) return refuse("name-taken");
  if (usual && row.retiredAt !== null) return refuse("usual-stays-in-use");
  if (usual && !row.usual) await noLongerUsual(transaction, row.kind);
  await transaction.update(priceLists).set({ name, usual }).where(eq(priceLists.id, priceListId));
  await recordChange(transaction, actor, {
    subject: "price list",
    subjectId: priceListId,
    what: "changed",
    before: { name: row.name, usual: row.usual },
    after: { name, usual },
  });
  return ok(null);
}

/** Takes a list out of the choices; not while it is the usual one, or customers in use buy from it. */
export async function retirePriceList(
  transaction: Transaction,
  actor: Actor,
  { priceListId }: { readonly priceListId: number },
): Promise<Result<null, PriceListRefusal>> {
  await holdLists(transaction);
  const buyers = and(eq(customers.priceListId, priceListId), isNull(customers.retiredAt));
  const usual = and(eq(priceLists.id, priceListId), eq(priceLists.usual, true));
  if ((await transaction.$count(customers, buyers)) > 0 || (await transaction.$count(priceLists, usual)) > 0)
    return refuse("in-use");
  return retireOrReturn(transaction, actor, priceLists, {
    subject: "price list",
    id: priceListId,
    retired: true,
  });
}

export async function bringBackPriceList(
  transaction: Transaction,
  actor: Actor,
  { priceListId }: { readonly priceListId: number },
): Promise<Result<null, PriceListRefusal>> {
  return retireOrReturn(transaction, actor, priceLists, {
    subject: "price list",
    id: priceListId,
    retired: false,
  });
}

/** Two at once would both become the usual list, or both take a name. */
async function holdLists(transaction: Transaction): Promise<void> {
  await transaction.execute(sql`lock table ${priceLists} in share row exclusive mode`);
}

async function nameTaken(transaction: Transaction, name: string, except = 0): Promise<boolean> {
  const same = and(sql`lower(${priceLists.name}) = lower(${name})`, ne(priceLists.id, except));
  return (await transaction.$count(priceLists, same)) > 0;
}

async function noLongerUsual(transaction: Transaction, kind: "retail" | "wholesale"): Promise<void> {
  await transaction.update(priceLists).set({ usual: false }).where(eq(priceLists.kind, kind));
}

/** The prices of a list on a day, each so much of it, a half upwards; null when there is no such list. */
async function copiedPrices(
  transaction: Transaction,
  { priceListId, basisPoints }: { readonly priceListId: number; readonly basisPoints: number },
  day: string,
): Promise<readonly { readonly productId: number; readonly unitPriceMinor: bigint }[] | null> {
  if ((await transaction.$count(priceLists, eq(priceLists.id, priceListId))) === 0) return null;
  const price = listPriceOn(sql`${priceListId}::integer`, sql`${products.id}`, sql`${day}::date`);
  const rows = await transaction
    .select({ productId: products.id, price: sql<string | null>`${price}` })
    .from(products)
    .where(isNull(products.retiredAt))
    .orderBy(products.id);
  return rows.flatMap(({ productId, price: copied }) =>
    copied === null
      ? []
      : [{ productId, unitPriceMinor: roundHalfUp(BigInt(copied) * BigInt(basisPoints), BASIS_POINTS) }],
  );
}
