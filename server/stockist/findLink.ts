import { and, eq, isNull } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { stockistLinks } from "../../db/schema/stockistLinks.ts";
import { hashOfSecret, sameHash } from "./linkSecret.ts";

/** A link that is open, and the shop it is for. */
export interface OpenLink {
  readonly id: number;
  readonly customerId: number;
  readonly shop: string;
}

/** The open link of a secret; undefined for any other text, a withdrawn link, or a shop that no longer orders. */
export async function findLink(db: Database, secret: string): Promise<OpenLink | undefined> {
  const hash = hashOfSecret(secret);
  const [row] = await openLinks(db).where(and(eq(stockistLinks.tokenHash, hash), isOpen));
  return row && sameHash(row.tokenHash, hash) ? row : undefined;
}

/** Keeps a link open until this transaction ends; false when it was withdrawn meanwhile. */
export async function holdLink(transaction: Transaction, linkId: number): Promise<boolean> {
  const [row] = await openLinks(transaction)
    .where(and(eq(stockistLinks.id, linkId), isOpen))
    .for("share");
  return row !== undefined;
}

const isOpen = and(
  isNull(stockistLinks.withdrawnAt),
  isNull(customers.retiredAt),
  eq(customers.kind, "shop"),
);

function openLinks(db: Database | Transaction) {
  return db
    .select({
      id: stockistLinks.id,
      customerId: stockistLinks.customerId,
      shop: customers.name,
      tokenHash: stockistLinks.tokenHash,
    })
    .from(stockistLinks)
    .innerJoin(customers, eq(customers.id, stockistLinks.customerId))
    .$dynamic();
}
