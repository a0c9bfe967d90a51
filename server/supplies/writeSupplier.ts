import { isDeepStrictEqual } from "node:util";
import { and, eq, isNull, ne, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { suppliers, supplyPacks } from "../../db/schema/suppliers.ts";
import { retireOrReturn } from "../../db/setRetired.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import { type AmountRefusal, supplyAmountOf } from "./amounts.ts";
import { lockSupply } from "./lockSupplies.ts";
import type { PackFacts, SupplierFacts } from "./supplierForms.ts";

export type SupplierRefusal = "not-found" | "name-taken";

export async function addSupplier(
  transaction: Transaction,
  actor: Actor,
  facts: SupplierFacts,
): Promise<Result<{ readonly supplierId: number }, SupplierRefusal>> {
  if (await nameTaken(transaction, facts.name)) return refuse("name-taken");
  const [row] = await transaction.insert(suppliers).values(facts).returning({ id: suppliers.id });
  if (!row) throw new Error("The new supplier's row did not come back");
  await recordChange(transaction, actor, {
    subject: "supplier",
    subjectId: row.id,
    what: "added",
    after: facts,
  });
  return ok({ supplierId: row.id });
}

export async function changeSupplier(
  transaction: Transaction,
  actor: Actor,
  { supplierId, ...facts }: SupplierFacts & { readonly supplierId: number },
): Promise<Result<{ readonly supplierId: number }, SupplierRefusal>> {
  const taken = await nameTaken(transaction, facts.name, supplierId);
  const [row] = await transaction.select().from(suppliers).where(eq(suppliers.id, supplierId)).for("update");
  if (!row) return refuse("not-found");
  if (taken) return refuse("name-taken");
  if (isDeepStrictEqual(row, { ...row, ...facts })) return ok({ supplierId });
  await transaction.update(suppliers).set(facts).where(eq(suppliers.id, supplierId));
  await recordChange(transaction, actor, {
    subject: "supplier",
    subjectId: supplierId,
    what: "changed",
    before: row,
    after: facts,
  });
  return ok({ supplierId });
}

/** Nothing is bought there any more; what came from there stays known. */
export async function retireSupplier(
  transaction: Transaction,
  actor: Actor,
  { supplierId }: { readonly supplierId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, suppliers, {
    subject: "supplier",
    id: supplierId,
    retired: true,
  });
}

export async function bringBackSupplier(
  transaction: Transaction,
  actor: Actor,
  { supplierId }: { readonly supplierId: number },
): Promise<Result<null, "not-found">> {
  return retireOrReturn(transaction, actor, suppliers, {
    subject: "supplier",
    id: supplierId,
    retired: false,
  });
}

export type PackRefusal = "not-found" | "supplier-unknown" | AmountRefusal;

/** Adds a pack. The first of a supply is its usual one; another becomes it where that was asked for. */
export async function addPack(
  transaction: Transaction,
  actor: Actor,
  { supplyId, written, usual, ...facts }: PackFacts & { readonly supplyId: number },
): Promise<Result<{ readonly packId: number }, PackRefusal>> {
  const locked = await lockSupply(transaction, supplyId);
  if (!locked) return refuse("not-found");
  const amount = supplyAmountOf(written, locked.supply);
  if (!amount.ok) return amount;
  const inUse = and(eq(suppliers.id, facts.supplierId), isNull(suppliers.retiredAt));
  if ((await transaction.$count(suppliers, inUse)) === 0) return refuse("supplier-unknown");
  if (facts.priceMinor !== null) await holdCurrency(transaction);
  const isUsual = usual || (await usualOf(transaction, supplyId)) === 0;
  if (isUsual) await nothingUsual(transaction, supplyId);
  const [row] = await transaction
    .insert(supplyPacks)
    .values({ ...facts, ...written, supplyId, amount: amount.value, usual: isUsual })
    .returning({ id: supplyPacks.id });
  if (!row) throw new Error("The new pack's row did not come back");
  await recordChange(transaction, actor, {
    subject: "supply",
    subjectId: supplyId,
    what: "pack added",
    after: { packId: row.id, ...facts, ...written, usual: isUsual },
  });
  return ok({ packId: row.id });
}

/** From now on this one is bought unless somebody chooses otherwise. */
export async function makePackUsual(
  transaction: Transaction,
  actor: Actor,
  { supplyId, packId }: { readonly supplyId: number; readonly packId: number },
): Promise<Result<null, "not-found">> {
  if (!(await holdPack(transaction, supplyId, packId))) return refuse("not-found");
  await nothingUsual(transaction, supplyId);
  await transaction.update(supplyPacks).set({ usual: true }).where(eq(supplyPacks.id, packId));
  await recordChange(transaction, actor, {
    subject: "supply",
    subjectId: supplyId,
    what: "usual pack chosen",
    after: { packId },
  });
  return ok(null);
}

/** It is not sold like that any more, or at another price: what was bought in it stays known. */
export async function retirePack(
  transaction: Transaction,
  actor: Actor,
  { supplyId, packId }: { readonly supplyId: number; readonly packId: number },
): Promise<Result<null, "not-found">> {
  if (!(await holdPack(transaction, supplyId, packId))) return refuse("not-found");
  await transaction
    .update(supplyPacks)
    .set({ usual: false, retiredAt: actor.at })
    .where(eq(supplyPacks.id, packId));
  await recordChange(transaction, actor, {
    subject: "supply",
    subjectId: supplyId,
    what: "pack retired",
    before: { packId },
  });
  return ok(null);
}

/** Whether the supply has such a pack in use; both stay as they are until the transaction ends. */
async function holdPack(transaction: Transaction, supplyId: number, packId: number): Promise<boolean> {
  if (!(await lockSupply(transaction, supplyId))) return false;
  const inUse = and(
    eq(supplyPacks.id, packId),
    eq(supplyPacks.supplyId, supplyId),
    isNull(supplyPacks.retiredAt),
  );
  return (await transaction.$count(supplyPacks, inUse)) > 0;
}

async function usualOf(transaction: Transaction, supplyId: number): Promise<number> {
  const usual = and(eq(supplyPacks.supplyId, supplyId), eq(supplyPacks.usual, true));
  return transaction.$count(supplyPacks, usual);
}

async function nothingUsual(transaction: Transaction, supplyId: number): Promise<void> {
  const usual = and(eq(supplyPacks.supplyId, supplyId), eq(supplyPacks.usual, true));
  await transaction.update(supplyPacks).set({ usual: false }).where(usual);
}

/** Two at once would both take a name. */
async function nameTaken(transaction: Transaction, name: string, except = 0): Promise<boolean> {
  await transaction.execute(sql`lock table ${suppliers} in share row exclusive mode`);
  const same = and(sql`lower(${suppliers.name}) = lower(${name})`, ne(suppliers.id, except));
  return (await transaction.$count(suppliers, same)) > 0;
}
