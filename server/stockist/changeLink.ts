import { and, count, desc, eq, isNull } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { stockistLinks } from "../../db/schema/stockistLinks.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";

type LinkRefusal = "not-found" | "not-a-shop";

/** Makes a shop's link from the hash of its secret. Where it has one already that one is withdrawn: the new one goes. */
export async function makeLink(
  transaction: Transaction,
  actor: Actor,
  { customerId, tokenHash }: { readonly customerId: number; readonly tokenHash: string },
): Promise<Result<null, LinkRefusal>> {
  const shop = await holdShop(transaction, customerId);
  if (!shop) return refuse("not-found");
  if (shop.kind !== "shop" || shop.retiredAt) return refuse("not-a-shop");
  const renewed = await withdraw(transaction, actor, customerId);
  await transaction
    .insert(stockistLinks)
    .values({ customerId, tokenHash, madeAt: actor.at, madeBy: actor.personId });
  await recordChange(transaction, actor, {
    subject: "customer",
    subjectId: customerId,
    what: renewed ? "order page's link renewed" : "order page's link made",
  });
  return ok(null);
}

/** Closes a shop's order page; what was sent from it stays. Asked for twice it is closed once. */
export async function withdrawLink(
  transaction: Transaction,
  actor: Actor,
  { customerId }: { readonly customerId: number },
): Promise<Result<null, LinkRefusal>> {
  if (!(await holdShop(transaction, customerId))) return refuse("not-found");
  if (await withdraw(transaction, actor, customerId))
    await recordChange(transaction, actor, {
      subject: "customer",
      subjectId: customerId,
      what: "order page's link withdrawn",
    });
  return ok(null);
}

/** The shop's row is the lock: two links asked for at once come one after the other. */
async function holdShop(transaction: Transaction, customerId: number) {
  const [shop] = await transaction
    .select({ kind: customers.kind, retiredAt: customers.retiredAt })
    .from(customers)
    .where(eq(customers.id, customerId))
    .for("update");
  return shop;
}

async function withdraw(transaction: Transaction, actor: Actor, customerId: number): Promise<boolean> {
  const withdrawn = await transaction
    .update(stockistLinks)
    .set({ withdrawnAt: actor.at, withdrawnBy: actor.personId })
    .where(and(eq(stockistLinks.customerId, customerId), isNull(stockistLinks.withdrawnAt)))
    .returning({ id: stockistLinks.id });
  return withdrawn.length > 0;
}

/** The open link of a shop with how many orders came through it; `link` is null where there is none. */
export async function findShopLink(db: Database, customerId: number) {
  const [shop] = await db
    .select({ id: customers.id, name: customers.name, kind: customers.kind, retiredAt: customers.retiredAt })
    .from(customers)
    .where(eq(customers.id, customerId));
  if (!shop) return undefined;
  const [link] = await db
    .select({ madeAt: stockistLinks.madeAt, madeBy: people.name, orders: count(orders.id) })
    .from(stockistLinks)
    .innerJoin(people, eq(people.id, stockistLinks.madeBy))
    .leftJoin(orders, eq(orders.stockistLinkId, stockistLinks.id))
    .where(and(eq(stockistLinks.customerId, customerId), isNull(stockistLinks.withdrawnAt)))
    .groupBy(stockistLinks.id, people.name)
    .orderBy(desc(stockistLinks.id));
  return { ...shop, link: link ?? null };
}
