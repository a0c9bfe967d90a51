import type { Database } from "../../db/connect.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { listPrices, ownPrices } from "../../db/schema/prices.ts";
import { taxGroups, taxRates } from "../../db/schema/taxes.ts";
import { workshop } from "../../db/schema/workshop.ts";

/*
 * Prices and taxes as tests need them, written straight into the tables: in force since the beginning of 2027 unless
 * they say otherwise.
 */

const SINCE = "2027-01-01";

/** A list, the usual one of its kind unless it says otherwise, with a price for each of the given products. */
export async function insertPriceList(
  db: Database,
  given: Partial<typeof priceLists.$inferInsert> & {
    readonly prices?: readonly (readonly [productId: number, unitPriceMinor: number])[];
  } = {},
): Promise<number> {
  const { prices = [], ...list } = given;
  const kind = list.kind ?? "wholesale";
  const [row] = await db
    .insert(priceLists)
    .values({ name: `${kind} prices`, kind, includesTax: false, usual: true, ...list })
    .returning({ id: priceLists.id });
  if (!row) throw new Error("The new list's row did not come back");
  for (const [productId, unitPriceMinor] of prices)
    await insertListPrice(db, { priceListId: row.id, productId, unitPriceMinor });
  return row.id;
}

export async function insertListPrice(
  db: Database,
  given: Omit<typeof listPrices.$inferInsert, "validFrom"> & { readonly validFrom?: string },
): Promise<void> {
  await db.insert(listPrices).values({ validFrom: SINCE, ...given });
}

export async function insertOwnPrice(
  db: Database,
  given: Omit<typeof ownPrices.$inferInsert, "validFrom"> & { readonly validFrom?: string },
): Promise<void> {
  await db.insert(ownPrices).values({ validFrom: SINCE, ...given });
}

/** A group with rates by the date each begins, in parts per million; the usual one of the workshop where it says so. */
export async function insertTaxGroup(
  db: Database,
  given: {
    readonly name: string;
    readonly rates: Readonly<Record<string, number>>;
    readonly usual?: boolean;
  },
): Promise<number> {
  const [row] = await db.insert(taxGroups).values({ name: given.name }).returning({ id: taxGroups.id });
  if (!row) throw new Error("The new group's row did not come back");
  for (const [validFrom, ratePpm] of Object.entries(given.rates))
    await db.insert(taxRates).values({ taxGroupId: row.id, validFrom, ratePpm });
  if (given.usual) await db.update(workshop).set({ usualTaxGroupId: row.id });
  return row.id;
}
