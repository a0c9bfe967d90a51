import { and, asc, desc, eq, inArray, isNotNull, isNull, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { blends, products } from "../../db/schema/products.ts";
import { recipeParts } from "../../db/schema/recipes.ts";
import { suppliers, supplyPacks } from "../../db/schema/suppliers.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { packingParts, supplyLots, supplyMoves } from "../../db/schema/supplyLots.ts";
import { taxRates } from "../../db/schema/taxes.ts";
import { shapes, workshop } from "../../db/schema/workshop.ts";
import { groupBy } from "../basics/groupBy.ts";
import { listPriceOn } from "../prices/inForce.ts";
import { recipeOn } from "../recipes/inForce.ts";
import { type Fraction, fraction, NOTHING } from "./fractions.ts";
import { handMinutesOf, type Margin, marginOf, type PieceCost, pieceCost } from "./pieceCost.ts";
import { type CostedMove, lastPaid, movingAverage } from "./unitCost.ts";

/** By what supplies and hands count. */
export interface CostSettings {
  readonly currency: string;
  readonly supplyCost: "last-paid" | "average";
  readonly hourMinor: number | null;
}

export async function readCostSettings(db: Database): Promise<CostSettings> {
  const [row] = await db
    .select({
      currency: workshop.currency,
      supplyCost: workshop.supplyCost,
      hourMinor: workshop.hourMinor,
    })
    .from(workshop);
  if (!row) throw new Error("There is no workshop to read");
  return row;
}

/** What a piece of a product costs, and what each list in force leaves. */
export interface ProductCost {
  readonly id: number;
  readonly name: string;
  readonly look: Pick<typeof blends.$inferSelect, "name" | "colour" | "pattern">;
  readonly blendId: number;
  /** False: its blend has no recipe today, so only packaging and hands are counted. */
  readonly hasRecipe: boolean;
  readonly handMinutes: number;
  readonly cost: PieceCost;
  /** By list, in the order of the lists; null: it is not on the list. */
  readonly margins: readonly (Margin | null)[];
}

export interface CostsOnADay {
  readonly settings: CostSettings;
  readonly lists: readonly { readonly id: number; readonly name: string; readonly includesTax: boolean }[];
  /** Tax that is in the prices of lists that have it in, in parts per million. */
  readonly taxPpm: number;
  readonly products: readonly ProductCost[];
}

/** Every product in use with its cost and margins on a day, by shape and lightest blend first. */
export async function readCosts(db: Database, day: string, productId?: number): Promise<CostsOnADay> {
  const settings = await readCostSettings(db);
  const lists = await db
    .select({ id: priceLists.id, name: priceLists.name, includesTax: priceLists.includesTax })
    .from(priceLists)
    .where(isNull(priceLists.retiredAt))
    .orderBy(desc(priceLists.kind), asc(priceLists.name), asc(priceLists.id));
  const taxPpm = await usualTax(db, day);
  const rows = await readProducts(db, day, productId);
  const recipe = groupBy(
    await readRecipeParts(
      db,
      rows.flatMap(({ recipeId }) => (recipeId === null ? [] : [recipeId])),
    ),
    ({ recipeId }) => recipeId,
  );
  const packing = groupBy(
    await readPackingParts(
      db,
      rows.map(({ id }) => id),
    ),
    (part) => part.productId,
  );
  const supplyIds = [...recipe.values(), ...packing.values()].flat().map((part) => part.supplyId);
  const unitCosts = await readUnitCosts(db, settings.supplyCost, [...new Set(supplyIds)]);
  const prices = new Map(
    (await readPrices(db, day)).map(({ listId, product, price }) => [`${listId} ${product}`, price]),
  );
  return {
    ...{ settings, lists, taxPpm },
    products: rows.map(({ recipeId, hands, ...product }) => {
      const ingredients = (recipeId === null ? [] : (recipe.get(recipeId) ?? [])).map((part) => ({
        name: part.name,
        amount: fraction(BigInt(part.milligramsPerKilogram) * BigInt(hands.pieceMilligrams), 1_000_000),
        unitMinor: unitCostOf(unitCosts, part),
      }));
      const around = (packing.get(product.id) ?? []).map((part) => ({
        name: part.name,
        amount: fraction(part.amount, part.forPieces),
        unitMinor: unitCostOf(unitCosts, part),
      }));
      const cost = pieceCost(ingredients, around, hands, settings.hourMinor);
      return {
        ...product,
        ...{ hasRecipe: recipeId !== null, handMinutes: handMinutesOf(hands), cost },
        margins: lists.map(({ id, includesTax }) => {
          const price = prices.get(`${id} ${product.id}`) ?? null;
          return price === null ? null : marginOf(price, includesTax ? taxPpm : 0, cost.totalMinor);
        }),
      };
    }),
  };
}

/** What is not kept count of, such as water from the tap, costs nothing where nothing was ever asked for it. */
function unitCostOf(
  unitCosts: ReadonlyMap<number, Fraction>,
  { supplyId, counted }: { readonly supplyId: number; readonly counted: boolean },
): Fraction | null {
  return unitCosts.get(supplyId) ?? (counted ? null : NOTHING);
}

async function readProducts(db: Database, day: string, productId: number | undefined) {
  const inHundredths = (column: unknown) => sql`(${column} * 100)`;
  const rows = await db
    .select({
      id: products.id,
      name: products.name,
      look: { name: blends.name, colour: blends.colour, pattern: blends.pattern },
      blendId: products.blendId,
      recipeId: recipeOn(sql`${products.blendId}`, sql`${day}::date`),
      pieceMilligrams: shapes.pieceMilligrams,
      bowlMilligrams: workshop.bowlMilligrams,
      pieceHundredthSeconds: sql<number>`(${inHundredths(shapes.formSeconds)} + ${inHundredths(shapes.turnSeconds)}
        + ${inHundredths(shapes.unmoldSeconds)} + ${inHundredths(shapes.packSeconds)})::integer`,
      bowlHundredthMinutes: sql<number>`(${inHundredths(workshop.mixMinutes)} + ${inHundredths(workshop.cleanMinutes)})::integer`,
    })
    .from(products)
    .innerJoin(blends, eq(blends.id, products.blendId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .innerJoin(workshop, sql`true`)
    .where(productId === undefined ? isNull(products.retiredAt) : eq(products.id, productId))
    .orderBy(asc(products.shapeId), asc(blends.shade), asc(products.name), asc(products.id));
  return rows.map(
    ({ pieceMilligrams, bowlMilligrams, pieceHundredthSeconds, bowlHundredthMinutes, ...row }) => ({
      ...row,
      hands: { pieceMilligrams, bowlMilligrams, pieceHundredthSeconds, bowlHundredthMinutes },
    }),
  );
}

/**
 * What a milligram or piece of each of some supplies costs: by the ledger, else as its usual pack is offered. What was paid
 * last is among the deliveries; an average needs every move.
 */
async function readUnitCosts(
  db: Database,
  rule: CostSettings["supplyCost"],
  supplyIds: readonly number[],
): Promise<ReadonlyMap<number, Fraction>> {
  const moves = groupBy(
    await db
      .select({
        supplyId: supplyMoves.supplyId,
        amount: supplyMoves.amount,
        kind: supplyMoves.kind,
        priceMinor: supplyLots.priceMinor,
      })
      .from(supplyMoves)
      .innerJoin(supplyLots, eq(supplyLots.id, supplyMoves.lotId))
      .where(
        and(
          inArray(supplyMoves.supplyId, [...supplyIds]),
          rule === "last-paid" ? eq(supplyMoves.kind, "received") : undefined,
        ),
      )
      .orderBy(asc(supplyMoves.supplyId), asc(supplyMoves.id)),
    ({ supplyId }) => supplyId,
  );
  const costs = new Map<number, Fraction>();
  for (const pack of await readOffers(db, supplyIds))
    if (!costs.has(pack.supplyId)) costs.set(pack.supplyId, fraction(pack.priceMinor ?? 0, pack.amount));
  for (const [supplyId, its] of moves) {
    const costed = its.map(
      ({ amount, kind, priceMinor }): CostedMove =>
        kind === "received" ? { amount, paidMinor: priceMinor } : { amount },
    );
    const cost = rule === "average" ? movingAverage(costed) : lastPaid(costed);
    if (cost !== null) costs.set(supplyId, cost);
  }
  return costs;
}

/** Packs with a price, of each supply the usual one first. */
async function readOffers(db: Database, supplyIds: readonly number[]) {
  return await db
    .select({
      supplyId: supplyPacks.supplyId,
      amount: supplyPacks.amount,
      priceMinor: supplyPacks.priceMinor,
    })
    .from(supplyPacks)
    .innerJoin(suppliers, eq(suppliers.id, supplyPacks.supplierId))
    .where(
      and(
        inArray(supplyPacks.supplyId, [...supplyIds]),
        isNull(supplyPacks.retiredAt),
        isNull(suppliers.retiredAt),
        isNotNull(supplyPacks.priceMinor),
      ),
    )
    .orderBy(asc(supplyPacks.supplyId), desc(supplyPacks.usual), asc(supplyPacks.id));
}

async function readRecipeParts(db: Database, recipeIds: readonly number[]) {
  return await db
    .select({
      recipeId: recipeParts.recipeId,
      supplyId: recipeParts.supplyId,
      name: supplies.name,
      counted: supplies.counted,
      milligramsPerKilogram: recipeParts.milligramsPerKilogram,
    })
    .from(recipeParts)
    .innerJoin(supplies, eq(supplies.id, recipeParts.supplyId))
    .where(inArray(recipeParts.recipeId, [...recipeIds]))
    .orderBy(asc(recipeParts.recipeId), asc(recipeParts.place));
}

async function readPackingParts(db: Database, productIds: readonly number[]) {
  return await db
    .select({
      productId: packingParts.productId,
      supplyId: packingParts.supplyId,
      name: supplies.name,
      counted: supplies.counted,
      amount: packingParts.amount,
      forPieces: packingParts.forPieces,
    })
    .from(packingParts)
    .innerJoin(supplies, eq(supplies.id, packingParts.supplyId))
    .where(inArray(packingParts.productId, [...productIds]))
    .orderBy(asc(packingParts.productId), asc(packingParts.supplyId));
}

async function readPrices(db: Database, day: string) {
  const price = listPriceOn(sql`${priceLists.id}`, sql`${products.id}`, sql`${day}::date`);
  return await db
    .select({
      listId: priceLists.id,
      product: products.id,
      // Far within what a double holds exactly; the driver would give a bigint as text.
      price: sql<number | null>`${price}::double precision`,
    })
    .from(products)
    .innerJoin(priceLists, isNull(priceLists.retiredAt))
    .orderBy(asc(priceLists.id), asc(products.id));
}

/** The rate of the usual tax group on a day; 0: none is paid. */
async function usualTax(db: Database, day: string): Promise<number> {
  const [row] = await db
    .select({ ratePpm: taxRates.ratePpm })
    .from(taxRates)
    .innerJoin(workshop, eq(workshop.usualTaxGroupId, taxRates.taxGroupId))
    .where(sql`${taxRates.validFrom} <= ${day}::date`)
    .orderBy(desc(taxRates.validFrom))
    .limit(1);
  return row?.ratePpm ?? 0;
}
