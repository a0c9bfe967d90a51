import { and, asc, desc, eq, isNull } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { suppliers, supplyPacks } from "../../db/schema/suppliers.ts";
import type { supplies } from "../../db/schema/supplies.ts";
import { groupBy } from "../basics/groupBy.ts";
import { listOnHand, listPurchases } from "./ledgerQueries.ts";
import type { SupplyBooks } from "./netting.ts";

/** A supply that is kept count of, with all that netting has to know of it. */
export interface KeptSupply {
  readonly id: number;
  readonly name: string;
  readonly kind: (typeof supplies.$inferSelect)["kind"];
  readonly leastOnHand: number;
  readonly coverDays: number;
  readonly books: SupplyBooks;
  /** False: nothing of it was ever entered, so that nobody knows what there is. */
  readonly isKnown: boolean;
  /** In which pack it is bought as a rule; null: nobody is known who sells it. */
  readonly pack: UsualPack | null;
}

export type UsualPack = Awaited<ReturnType<typeof readUsualPacks>>[number];

/** Everything that is bought, in use and kept count of, by kind and name. */
export async function readBooks(db: Database, today: string): Promise<readonly KeptSupply[]> {
  const rows = (await listOnHand(db, today)).filter(({ counted }) => counted);
  const purchases = groupBy(await listPurchases(db), ({ supplyId }) => supplyId);
  const packs = groupBy(await readUsualPacks(db), ({ supplyId }) => supplyId);
  return rows.map(({ id, name, kind, leastOnHand, coverDays, lots, beyond, everReceived }) => ({
    ...{ id, name, kind, leastOnHand, coverDays, isKnown: everReceived },
    books: {
      lots,
      beyond,
      expected: (purchases.get(id) ?? []).map(({ dueOn, amount }) => ({ on: dueOn, amount })),
    },
    pack: packs.get(id)?.[0] ?? null,
  }));
}

/** The packs that can be bought, of each supply the usual one first. */
async function readUsualPacks(db: Database) {
  return await db
    .select({
      supplyId: supplyPacks.supplyId,
      packId: supplyPacks.id,
      supplierId: suppliers.id,
      supplier: suppliers.name,
      deliveryDays: suppliers.deliveryDays,
      orderWeekdays: suppliers.orderWeekdays,
      contact: suppliers.contact,
      amount: supplyPacks.amount,
      thousandths: supplyPacks.thousandths,
      unit: supplyPacks.unit,
      priceMinor: supplyPacks.priceMinor,
      leastPacks: supplyPacks.leastPacks,
      code: supplyPacks.code,
    })
    .from(supplyPacks)
    .innerJoin(suppliers, eq(suppliers.id, supplyPacks.supplierId))
    .where(and(isNull(supplyPacks.retiredAt), isNull(suppliers.retiredAt)))
    .orderBy(asc(supplyPacks.supplyId), desc(supplyPacks.usual), asc(supplyPacks.id));
}
