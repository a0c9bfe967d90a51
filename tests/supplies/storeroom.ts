import type { Database } from "../../db/connect.ts";
import { recipeParts, recipes } from "../../db/schema/recipes.ts";
import { suppliers } from "../../db/schema/suppliers.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { packingParts, supplyLots, supplyMoves } from "../../db/schema/supplyLots.ts";
import type { TestDatabase } from "../db/testDatabase.ts";

/** Monday 1 March 2027, where the standing clock of the tests begins. */
const EARLIER = new Date("2027-03-01T07:00:00Z");

/** Something that goes into a bowl, unless its kind says otherwise. */
export async function insertSupply(
  db: Database,
  given: Partial<typeof supplies.$inferInsert> & { readonly name: string },
): Promise<number> {
  return idOf(
    await db
      .insert(supplies)
      .values({ kind: "soda", ...given })
      .returning({ id: supplies.id }),
  );
}

export async function insertSupplier(
  db: Database,
  given: Partial<typeof suppliers.$inferInsert> = {},
): Promise<number> {
  const values = { name: "Tarn & Thimble Minerals", deliveryDays: 3, ...given };
  return idOf(await db.insert(suppliers).values(values).returning({ id: suppliers.id }));
}

/** A lot with all that came in it. */
export async function insertLot(
  db: Database,
  given: Partial<typeof supplyLots.$inferInsert> & {
    readonly supplyId: number;
    readonly code: string;
    readonly amount: number;
  },
): Promise<number> {
  const { amount, ...lot } = given;
  const lotId = idOf(
    await db
      .insert(supplyLots)
      .values({ receivedOn: "2027-02-01", createdAt: EARLIER, ...lot })
      .returning({ id: supplyLots.id }),
  );
  await db
    .insert(supplyMoves)
    .values({ supplyId: given.supplyId, lotId, kind: "received", amount, at: EARLIER });
  return lotId;
}

/** A version of a blend's recipe; its parts, by supply, add up to a kilogram. */
export async function insertRecipe(
  db: Database,
  blendId: number,
  parts: Readonly<Record<number, number>>,
  validFrom = "2027-01-01",
): Promise<number> {
  return await db.transaction(async (transaction) => {
    const recipeId = idOf(
      await transaction
        .insert(recipes)
        .values({ blendId, version: 1, validFrom, category: "9", createdAt: EARLIER })
        .returning({ id: recipes.id }),
    );
    await transaction.insert(recipeParts).values(
      Object.entries(parts).map(([supplyId, milligramsPerKilogram], place) => ({
        ...{ recipeId, place, phase: "dry" as const, supplyId: Number(supplyId), milligramsPerKilogram },
        ...{ thousandths: milligramsPerKilogram, unit: "g" as const },
      })),
    );
    return recipeId;
  });
}

export async function insertPackingPart(
  db: Database,
  given: { readonly productId: number; readonly supplyId: number; readonly forPieces?: number },
): Promise<void> {
  await db.insert(packingParts).values({ amount: 1, ...given });
}

/** What each lot has, by its code; "beyond" is what was used beyond the ledger. Nothing is left out. */
export async function onHand({ sql }: TestDatabase): Promise<Readonly<Record<string, number>>> {
  const rows = await sql<{ code: string; amount: string }[]>`
    select code, amount from supply_lot_balances join supply_lots on supply_lots.id = lot_id
    union all
    select 'beyond ' || supplies.name, sum(amount) from supply_moves
      join supplies on supplies.id = supply_id where lot_id is null group by supplies.id having sum(amount) <> 0
    order by 1`;
  return Object.fromEntries(rows.map(({ code, amount }) => [code, Number(amount)]));
}

/** The ledger, oldest first, such as "SAAA1 used -500". */
export async function ledger({ sql }: TestDatabase): Promise<readonly string[]> {
  const rows = await sql<{ move: string }[]>`
    select concat_ws(' ', coalesce(code, 'beyond'), kind, amount, cause) as move from supply_moves
      left join supply_lots on supply_lots.id = lot_id order by supply_moves.id`;
  return rows.map(({ move }) => move);
}

/** Nothing bought, nothing mixed, nothing ordered. */
export async function emptyStoreroom({ sql }: TestDatabase): Promise<void> {
  await sql`truncate supplies, suppliers, plans, blends, shapes, customers, changes restart identity cascade`;
}

function idOf(rows: readonly { readonly id: number }[]): number {
  const [row] = rows;
  if (!row) throw new Error("The row did not come back");
  return row.id;
}
